"""`learn`: what was thought probable, and what was then confirmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import LEARN, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

# Arrival with an open seam, then a visit on which somebody looked under the bridge.
CASE = """\
tailblock: 1
job: "1"
checklist: small
instrument: {description: one, traits: {bridge: pin, body-join: "14"}}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: slack}
    readings: [{check: bridge-feeler, value: 6 mm}]
    confirmed: [{fault: bridge-lifting, present: PRESENT}]
  - stage: first-stringing
    date: 2031-03-03
    setup: {strings: slack}
    confirmed: [{fault: neck-bow, present: false}]
"""


@pytest.fixture
def cases(shop: Path) -> Path:
    for name, present in (("a", "true"), ("b", "true"), ("c", "false")):
        text = CASE.replace("PRESENT", present)
        (shop / f"{name}.yaml").write_text(text, encoding="utf-8")
    return shop


def test_the_probability_is_that_before_the_confirmation(run: Run, cases: Path) -> None:
    data = run("learn", ".", "--json").data
    fits(data, LEARN)
    assert (data["cases"], data["confirmations"], data["left_out"]) == (3, 6, [])
    bow, lifting = data["table"]
    # neck-bow: starts at `sometimes` (0.30), and nothing read on it; never there
    assert (bow["count"], bow["seen"]) == (3, 0.0)
    assert bow["said"] == pytest.approx(0.30)
    # lifting by Bayes: at 6 mm 0.604 with the fault, 0.01 without it; it starts at 0.10
    odds = 0.10 / 0.90 * 0.604 / 0.01
    assert lifting["said"] == pytest.approx(odds / (1 + odds), rel=1e-6)
    assert lifting["seen"] == pytest.approx(2 / 3)
    said = lifting["said"]
    score = (3 * 0.30**2 + 2 * (1 - said) ** 2 + said**2) / 6
    assert data["brier"]["score"] == pytest.approx(score, rel=1e-6)


def test_in_words(run: Run, cases: Path) -> None:
    shown = run("learn", ".").out
    assert shown.startswith("6 confirmations in 3 inspections.\n")
    assert " 20 to 40 %        30 %        0 %" in shown
    assert "(few)" in shown
    assert "Brier score " in shown


def test_nothing_confirmed_and_broken_files_are_said(run: Run, shop: Path) -> None:
    (shop / "torn.yaml").write_text("tailblock: 1\njob: [\n", encoding="utf-8")
    ran = run("learn", ".")
    assert ran.code == 0
    assert ran.out.splitlines()[0].startswith("left out: torn.yaml:")
    assert "0 confirmations in 0 inspections." in ran.out
    data = run("learn", ".", "--json").data
    fits(data, LEARN)
    assert (data["brier"], data["log_loss"], data["table"]) == (None, None, [])


def test_a_folder_is_wanted(run: Run) -> None:
    ran = run("learn", "job.yaml")
    assert (ran.code, ran.err) == (2, "job.yaml: this is a file (a folder is wanted)\n")
