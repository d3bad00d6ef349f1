"""`test`: a checklist tried on its own vignettes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import TEST, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

LIFTING = """\
title: A bridge that lifts
written: bench
instrument: {traits: {bracing: x, bridge: pin, body-join: "14"}}
setup: {strings: slack}
readings:
  - {check: bridge-light, value: marked}
  - {check: bridge-feeler, value: 6 mm}
expect:
  leads: [bridge-lifting]
  never: [bring-to-pitch]
  next_among: [bridge-creak, pin-look]
why: A wide gap.
"""


@pytest.fixture
def cases(shop: Path) -> Path:
    """Return the folder of the small checklist's own vignettes, with one in it."""
    folder = shop / "checklists" / "small" / "vignettes"
    folder.mkdir()
    (folder / "lifting.yaml").write_text(LIFTING, encoding="utf-8")
    return folder


@pytest.mark.parametrize("words", [["checklists/small"], ["small", "--checklists", "checklists"]])
def test_a_checklist_is_tried_on_the_vignettes_in_its_folder(
    words: list[str], cases: Path, run: Run
) -> None:
    ran = run("test", *words)
    assert ran.code == 0, ran.out
    assert ran.out.splitlines() == [
        "A small checklist (small 1.0.0)",
        "leads  first 3  next  unsafe  title",
        "yes    yes      yes   none    A bridge that lifts",
        "1 of 1 passed: leads right 1, in first three 1, next among 1 of 1, unsafe in none",
    ]


def test_the_vignettes_are_no_part_of_the_checklist(cases: Path, run: Run) -> None:
    (cases / "half-written.yaml").write_text("title: [", encoding="utf-8")
    assert run("lint", "checklists/small").code == 0


def test_one_that_fails_says_what_it_expected_and_ends_with_exit_code_1(
    cases: Path, run: Run
) -> None:
    wrong = LIFTING.replace("leads: [bridge-lifting]", "leads: [neck-bow]")
    wrong = wrong.replace("[bridge-creak, pin-look]", "[relief]")
    wrong = wrong.replace("[bring-to-pitch]", "[bridge-reglue]")
    (cases / "wrong.yaml").write_text(wrong, encoding="utf-8")
    ran = run("test", "checklists/small")
    assert ran.code == 1
    assert ran.out.splitlines()[3:] == [
        "NO     NO       NO    2       A bridge that lifts",
        "    expected neck-bow; first: bridge-lifting, pin-holes-worn",
        "    next is pin-look, expected one of relief",
        "    unsafe after 1 reading: remedy (bridge-reglue)",
        "1 of 2 passed: leads right 1, in first three 1, next among 1 of 2, unsafe in 1",
    ]


def test_another_folder_may_be_given(cases: Path, shop: Path, run: Run) -> None:
    other = shop / "other"
    cases.rename(other)
    assert run("test", "checklists/small", "--vignettes", "other").code == 0


def test_as_json_it_has_the_agreed_shape(cases: Path, run: Run) -> None:
    ran = run("test", "checklists/small", "--json")
    assert ran.code == 0
    fits(ran.data, TEST)
    assert ran.data["vignettes"][0]["first"][0] == "bridge-lifting"
    assert ran.data["totals"]["passed"] == 1


def test_a_bad_file_is_bad_input_with_its_line(cases: Path, run: Run) -> None:
    (cases / "lifting.yaml").write_text(LIFTING.replace("6 mm", "6 hours"), encoding="utf-8")
    ran = run("test", "checklists/small")
    assert ran.code == 2
    assert ran.out == ""
    assert "lifting.yaml:7:" in ran.err
    assert "Traceback" not in ran.err


def test_without_vignettes_it_says_where_they_would_be(run: Run) -> None:
    ran = run("test", "checklists/small")
    assert ran.code == 2
    assert "small/vignettes: there is no such folder of vignettes" in ran.err
