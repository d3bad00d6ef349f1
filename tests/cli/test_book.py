"""`book`: the inspections of a folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import BOOK, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


@pytest.fixture(autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))


def test_a_folder_as_data(run: Run, shop: Path) -> None:
    (shop / "torn.yaml").write_text("tailblock: 1\njob: [\n", encoding="utf-8")
    data = run("book", ".", "--json").data
    fits(data, BOOK)
    sound, broken = data["cases"]
    assert (sound["path"], sound["stage"], sound["error"]) == ("job.yaml", "arrival", None)
    assert (broken["path"], broken["day"]) == ("torn.yaml", None)
    assert broken["error"].startswith("torn.yaml:")


def test_a_folder_in_words(run: Run, shop: Path) -> None:
    (shop / "torn.yaml").write_text("tailblock: 1\njob: [\n", encoding="utf-8")
    *cases, broken, total = run("book", ".").out.splitlines()
    assert len(cases) == 1
    assert "arrival, 1 visit" in cases[0]
    assert cases[0].endswith("(job.yaml)")
    assert broken.startswith("cannot be read: torn.yaml:")
    assert total == "1 inspection, 0 overdue, 1 cannot be read."


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("--trait", "bridge=pin"), 1),
        (("--trait", "bridge=pinless"), 0),
        (("--state", "arrival"), 1),
        (("--state", "overdue"), 0),
        (("--state", "closed"), 0),
        (("--fault", "bridge-lifting"), 0),
        (("--since", "2000-01-01"), 1),
        (("--since", "2999-01-01"), 0),
    ],
)
def test_a_search(run: Run, words: tuple[str, ...], found: int) -> None:
    assert len(run("book", ".", *words, "--json").data["cases"]) == found


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nowhere",), "nowhere: there is no such folder (a folder is wanted)"),
        (("job.yaml",), "job.yaml: this is a file (a folder is wanted)"),
        ((".", "--trait", "bridge"), "--trait bridge: this is no pair (write it like --trait br"),
        ((".", "--trait", "brige=pin"), "--trait: there is no 'brige' (there is body-join, br"),
        ((".", "--state", "lost"), "--state: there is no 'lost' (there is closed, overdue, bro"),
        ((".", "--since", "May"), "--since: 'May' is no day (write it like 2031-03-02)"),
    ],
)
def test_a_slip(run: Run, words: tuple[str, ...], said: str) -> None:
    ran = run("book", *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(said)


def test_a_long_list_ends_with_how_many_more_there_are(run: Run, shop: Path) -> None:
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    for number in range(3):
        (shop / f"{number}.yaml").write_text(text, encoding="utf-8")
    *_, more, total = run("book", ".", "--most", "2").out.splitlines()
    assert more == "2 more (--most lists more of them, --since and others fewer)."
    assert total == "4 inspections, 0 overdue, 0 cannot be read."
    data = run("book", ".", "--most", "2", "--json").data
    assert (data["total"], len(data["cases"])) == (4, 2)
