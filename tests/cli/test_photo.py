"""Photographs from the command line: written down, shown in the report, refused with the mend."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from pictures import plain
from tailblock.inspection.picture import MOST_BYTES

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run


@pytest.fixture
def gap(shop: Path) -> str:
    """Return the name of a photograph in the shop."""
    (shop / "gap.jpg").write_bytes(plain())
    return "gap.jpg"


def test_a_caption_goes_with_its_photograph(shop: Path, run: Run, gap: str) -> None:
    words = ["record", "job.yaml", "bridge-light", "slight", "--photo", gap]
    assert run(*words, "--photo", gap, "--caption", "Bass side", "--caption", "").code == 0
    assert "photos: [{file: gap.jpg, caption: Bass side}, gap.jpg]" in (
        shop / "job.yaml"
    ).read_text(encoding="utf-8")


def test_a_photograph_is_added_to_the_last_reading(shop: Path, run: Run, gap: str) -> None:
    for value in ("none", "slight"):
        assert run("record", "job.yaml", "bridge-light", value).code == 0
    ran = run("photo", "job.yaml", gap, "--check", "bridge-light", "--caption", "a line, left")
    assert (ran.code, ran.out) == (0, "gap.jpg: bridge-light. Saved.\n")
    *_, last = (shop / "job.yaml").read_text(encoding="utf-8").splitlines()
    assert "value: slight" in last
    assert 'photos: [{file: gap.jpg, caption: "a line, left"}]' in last


def test_a_photograph_is_added_to_the_instrument(shop: Path, run: Run, gap: str) -> None:
    ran = run("photo", "job.yaml", gap, gap, "--json")
    assert ran.data["check"] is None
    assert [one["file"] for one in ran.data["photos"]] == [gap, gap]
    text = (shop / "job.yaml").read_text(encoding="utf-8")
    assert "photos: [{file: gap.jpg}, {file: gap.jpg}]" in text


def test_the_report_shows_it_in_every_form(shop: Path, run: Run, gap: str) -> None:
    run("record", "job.yaml", "bridge-light", "slight", "--photo", gap, "--caption", "Bass side")
    for form, ending in (("html", "html"), ("markdown", "md"), ("json", "json"), ("pdf", "pdf")):
        assert run("report", "job.yaml", "--format", form).code == 0
        made = (shop / f"job.report.{ending}").read_bytes()
        assert b"Bass side" in made or form == "pdf"
        assert len(made) < 3 * MOST_BYTES
    assert b"data:image/jpeg;base64," in (shop / "job.report.html").read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["photo", "job.yaml", "gone.jpg"], "gone.jpg: there is no such photograph"),
        (["photo", "job.yaml", "text.jpg"], "text.jpg: this is no picture that can be read here"),
        (["photo", "job.yaml", "gap.jpg", "--check", "pin-look"], "pin-look has no reading on the"),
        (
            ["photo", "job.yaml", "gap.jpg", "--check", "pin-lok"],
            "check (did you mean `pin-look`?)",
        ),
        (["photo", "job.yaml", "gap.jpg", "--caption", "a", "--caption", "b"], "2 for 1 photo"),
        (["record", "job.yaml", "pin-look", "round", "--photo", "text.jpg"], "no picture"),
        (["record", "job.yaml", "pin-look", "round", "--caption", "a"], "1 for 0 photographs"),
    ],
)
def test_what_is_no_photograph_is_not_written_down(
    shop: Path, run: Run, gap: str, words: list[str], said: str
) -> None:
    (shop / "text.jpg").write_bytes(b"not a picture")
    before = (shop / "job.yaml").read_bytes()
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert (shop / "job.yaml").read_bytes() == before


def test_a_report_names_all_photographs_that_cannot_be_shown(
    shop: Path, run: Run, gap: str
) -> None:
    run("record", "job.yaml", "bridge-light", "slight", "--photo", gap)
    run("photo", "job.yaml", gap)
    text = (shop / "job.yaml").read_text(encoding="utf-8").replace("[gap.jpg]", "[gone.jpg]")
    (shop / "job.yaml").write_text(text, encoding="utf-8")
    (shop / "gap.jpg").write_bytes(plain()[:400])
    ran = run("report", "job.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert re.findall(r"^job\.yaml:(\d+):\d+: error \[photograph\]", ran.err, re.MULTILINE)
    assert "gone.jpg: there is no such photograph" in ran.err
    assert "gap.jpg: " in ran.err
    assert not (shop / "job.report.html").exists()
