"""The case book: what is in the files, found quickly, and nothing else."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from builders import BENCH
from tailblock.inspection import store
from tailblock.inspection.book import Book, Wanted
from tailblock.inspection.follow_ups import follow_ups
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tailblock.inspection.book import Case
    from tailblock.knowledge.checklist import Checklist

# The remedy of the bench, with a look after it.
WATCHED = BENCH.replace(
    "hours: {low: 2, likely: 3, high: 6}}",
    "hours: {low: 2, likely: 3, high: 6}, watch: {check: feeler, after: 30 days}}",
)
TODAY = date(2031, 6, 1)
ALL = Wanted({})


def inspection(
    day: str, *, bridge: str = "pin", work: str = "", seen: str = "", name: str = "a guitar"
) -> str:
    """Return a file: arrival on a day, with the work before the second visit, and a third."""
    text = f"""\
tailblock: 1
job: "{day}"
checklist: bench
instrument: {{description: {name}, traits: {{bridge: {bridge}, strings: steel}}}}
player: {{name: Ada Example}}
visits:
  - {{stage: arrival, date: {day}, setup: {{strings: slack}}}}
"""
    if work:
        text += f"  - {{stage: opened, date: {work}, work: [{{remedy: bridge-reglue}}]}}\n"
    if seen:
        text += (
            f"  - stage: settled\n    date: {seen}\n    setup: {{strings: slack}}\n"
            "    readings: [{check: feeler, value: 0 mm}]\n    closed: true\n"
        )
    return text


@pytest.fixture
def bench(tmp_path: Path) -> Checklist:
    folder = tmp_path / "lists" / "bench"
    folder.mkdir(parents=True)
    (folder / "checklist.yaml").write_text(WATCHED, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, loaded.problems
    return loaded.checklist


@pytest.fixture
def cases(tmp_path: Path) -> Path:
    folder = tmp_path / "cases"
    (folder / "old").mkdir(parents=True)
    files = {
        "plain.yaml": inspection("2031-05-01"),
        "late.yaml": inspection("2031-03-01", work="2031-03-05"),
        "later.yaml": inspection("2031-04-01", work="2031-04-20", bridge="pinless"),
        "soon.yaml": inspection("2031-05-20", work="2031-05-25"),
        "old/seen.yaml": inspection("2030-01-01", work="2030-01-05", seen="2030-02-10"),
        "broken.yaml": "tailblock: 1\njob: [\n",
        "shop.yaml": "tailblock: 1\ncurrency: EUR\nrate: 60\n",
        ".hidden.yaml": "nothing",
        "notes.txt": "nothing",
    }
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    (folder / "lists" / "bench").mkdir(parents=True)
    (folder / "lists" / "bench" / "checklist.yaml").write_text(WATCHED, encoding="utf-8")
    return folder


class Counting:
    """A finder of checklists that counts how many files were read with it."""

    def __init__(self, checklist: Checklist) -> None:
        self.checklist, self.read = checklist, 0

    def __call__(self, _: str) -> Checklist:
        self.read += 1
        return self.checklist


@pytest.fixture
def finder(bench: Checklist) -> Counting:
    return Counting(bench)


@pytest.fixture
def look(cases: Path, finder: Counting, tmp_path: Path) -> Callable[..., tuple[Case, ...]]:
    def search(wanted: Wanted = ALL, key: str = "") -> tuple[Case, ...]:
        with closing(Book(cases, finder, tmp_path / "cache", key=key)) as book:
            return book.search(wanted, TODAY).cases

    return search


def paths(found: tuple[Case, ...]) -> list[str]:
    return [case.path for case in found]


def test_overdue_follow_ups_come_first_then_the_last_seen_and_broken_files_last(
    look: Callable[..., tuple[Case, ...]],
) -> None:
    assert paths(look()) == [
        "late.yaml", "later.yaml", "soon.yaml", "plain.yaml", "old/seen.yaml", "broken.yaml",
    ]  # fmt: skip


def test_a_follow_up_is_due_after_the_work_until_it_was_read(
    look: Callable[..., tuple[Case, ...]],
) -> None:
    by_path = {case.path: case for case in look()}
    (late,) = by_path["late.yaml"].due
    # 30 days after the visit of 5 March that the work stands on
    assert (late.due, late.check, late.remedy) == ("2031-04-04", "feeler", "bridge-reglue")
    assert late.title == "Feel for an open seam"
    assert late.overdue
    (soon,) = by_path["soon.yaml"].due
    assert (soon.due, soon.overdue) == ("2031-06-24", False)
    assert by_path["old/seen.yaml"].due == by_path["plain.yaml"].due == ()


@pytest.mark.parametrize(
    ("answer", "day", "seen"),
    [
        ("0 mm", "2031-04-04", True),
        ("0 mm", "2031-04-03", False),  # a day too early
        ("unknown", "2031-04-04", False),
        ("0 mm, retracted: true", "2031-04-04", False),
    ],
)
def test_what_counts_as_looked_at_again(
    bench: Checklist, answer: str, day: str, seen: bool
) -> None:
    text = inspection("2031-03-01", work="2031-03-05", seen=day).replace("0 mm", answer)
    visits = store.from_bytes(text.encode(), Path("x.yaml"), lambda _: bench).visits
    assert [one.seen is not None for one in follow_ups(bench, visits)] == [seen]


def test_a_broken_file_is_listed_with_its_error_and_place(
    look: Callable[..., tuple[Case, ...]],
) -> None:
    (broken,) = (case for case in look() if case.error)
    assert broken.error.startswith("broken.yaml:")
    assert (broken.day, broken.visits, broken.job) == ("", 0, "")


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        (Wanted({"bridge": "pinless"}), ["later.yaml"]),
        (Wanted({"bridge": "pin", "strings": "steel"}, state="opened"), ["late.yaml", "soon.yaml"]),
        (Wanted({"bridge": "floating"}), []),
        (Wanted({}, fault="bridge-lifting"),
         ["late.yaml", "later.yaml", "soon.yaml", "old/seen.yaml"]),
        (Wanted({}, fault="top-hump"), []),
        (Wanted({}, state="overdue"), ["late.yaml", "later.yaml"]),
        (Wanted({}, state="broken"), ["broken.yaml"]),
        (Wanted({}, state="settled"), ["old/seen.yaml"]),
        (Wanted({}, state="closed"), ["old/seen.yaml"]),
        (Wanted({}, since=date(2031, 4, 20)), ["later.yaml", "soon.yaml", "plain.yaml"]),
        (Wanted({"bridge": "' OR 1 --"}), []),
    ],
)  # fmt: skip
def test_what_is_found(
    look: Callable[..., tuple[Case, ...]], wanted: Wanted, found: list[str]
) -> None:
    assert paths(look(wanted)) == found


def test_a_second_look_reads_only_what_has_changed(
    look: Callable[..., tuple[Case, ...]], cases: Path, finder: Counting
) -> None:
    look()
    finder.read = 0
    first = look()
    assert finder.read == 0
    os.utime(cases / "plain.yaml")  # touched, the same bytes
    (cases / "late.yaml").rename(cases / "old" / "late.yaml")  # moved
    found = look()
    assert finder.read == 0
    assert set(paths(found)) == {*paths(first)} - {"late.yaml"} | {"old/late.yaml"}
    (cases / "plain.yaml").write_text(inspection("2031-05-30"), encoding="utf-8")
    (cases / "soon.yaml").unlink()
    (cases / "broken.yaml").write_text(inspection("2031-01-01"), encoding="utf-8")
    found = look()
    assert "soon.yaml" not in paths(found)
    assert not any(case.error for case in found)
    assert {case.path: case.day for case in found}["plain.yaml"] == "2031-05-30"


def test_another_key_makes_the_index_anew(
    look: Callable[..., tuple[Case, ...]], finder: Counting
) -> None:
    look(key="one")
    finder.read = 0
    look(key="one")
    assert finder.read == 0
    look(key="two")
    assert finder.read > 0


def _spoil(index: Path) -> Iterator[Callable[[], object]]:
    yield lambda: index.write_bytes(b"this is no database at all" * 100)
    yield lambda: index.write_bytes(index.read_bytes()[:5000])
    yield index.unlink

    def other_tables() -> None:
        with closing(sqlite3.connect(index)) as base:
            base.execute("DROP TABLE due")
            base.commit()

    yield other_tables


@pytest.mark.parametrize("how", range(4), ids=["rubbish", "cut off", "gone", "a table is missing"])
def test_a_spoilt_index_is_made_anew(
    look: Callable[..., tuple[Case, ...]], tmp_path: Path, how: int
) -> None:
    before = look()
    (index,) = (tmp_path / "cache").glob("*.book")
    list(_spoil(index))[how]()
    assert look() == before


def test_without_a_place_for_the_index_it_is_made_in_memory(
    look: Callable[..., tuple[Case, ...]], tmp_path: Path
) -> None:
    (tmp_path / "cache").write_text("a file where the folder should be", encoding="utf-8")
    assert len(look()) == 6


def test_nothing_about_the_player_is_kept(
    look: Callable[..., tuple[Case, ...]], tmp_path: Path
) -> None:
    look()
    (index,) = (tmp_path / "cache").glob("*.book")
    assert b"Ada" not in index.read_bytes()


def test_some_cases_and_how_many_there_are(cases: Path, finder: Counting, tmp_path: Path) -> None:
    with closing(Book(cases, finder, tmp_path / "cache")) as book:
        found = book.search(ALL, TODAY, 2)
        assert paths(found.cases) == ["late.yaml", "later.yaml"]
        assert (found.total, found.overdue, found.broken) == (6, 2, 1)
        found = book.search(Wanted({"bridge": "floating"}), TODAY)
        assert (found.cases, found.total, found.overdue, found.broken) == ((), 0, 0, 0)
