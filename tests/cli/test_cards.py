"""`cards`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from cli.test_app import loaded

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

HERE = ("checklists/small",)


def test_a_complaint_on_the_screen(run: Run) -> None:
    ran = run("cards", *HERE, "--complaint", "bridge-creak")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("<svg ")
    assert "Does it creak: what to look at, in which order" in ran.out
    assert "Glue in the corner shines too." in ran.out


def test_a_part_into_a_file(run: Run, shop: Path) -> None:
    words = ("--part", "bridge", "--depth", "3", "--form", "md", "--trait", "bridge=pin")
    ran = run("cards", *HERE, *words, "-o", "bridge.md")
    assert (ran.code, ran.out) == (0, "bridge.md\n")
    text = (shop / "bridge.md").read_text(encoding="utf-8")
    assert text.startswith("# Bridge: what to look at, in which order\n")
    assert "**1. Shine along the bridge edge (1 min)**" in text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_a_pdf_is_one_sheet(paper: str, points: tuple[int, int], run: Run, shop: Path) -> None:
    ran = run("cards", *HERE, "--part", "bridge", "--paper", paper, "-o", "bridge.pdf")
    assert (ran.code, ran.out) == (0, "bridge.pdf\n")  # the ending says which form
    (page,) = PdfReader(shop / "bridge.pdf").pages
    assert (round(page.mediabox.width), round(page.mediabox.height)) == points
    text = " ".join(page.extract_text().split())
    assert "Bridge: what to look at, in which order" in text
    assert "Glue in the corner shines too." in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "cards: give --complaint ID or --part PART, one of the two\n"),
        (
            ("--part", "bridge", "--complaint", "bridge-creak"),
            "cards: give --complaint ID or --part PART, one of the two\n",
        ),
        (
            ("--part", "brigde"),
            "there is no part 'brigde' in small (did you mean `bridge`?)\n",
        ),
        (
            ("--part", "bridge", "--form", "pdf"),
            "cards: a PDF goes into a file (give --output FILE)\n",
        ),
        (("--complaint", "creak"), None),
        (
            ("--complaint", "bridge-light"),
            "bridge-light: this is looked at on the bench (name a complaint of the player)\n",
        ),
        (("--part", "bridge", "--depth", "2"), None),
        (("--part", "bridge", "--trait", "bridge"), None),
        (("--part", "bridge", "--trait", "bridge=none"), None),
        (("--part", "bridge", "-o", "nowhere/a.svg"), None),
    ],
)
def test_bad_input_ends_with_exit_code_2(
    words: tuple[str, ...], said: str | None, run: Run
) -> None:
    ran = run("cards", *HERE, *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == said if said else len(ran.err.splitlines()) == 1


def test_its_help_loads_nothing_heavy() -> None:
    assert set(loaded("cards", "--help")) <= {"pydantic"}  # newer typers read parameters with it
