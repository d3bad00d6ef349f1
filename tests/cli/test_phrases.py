"""The sentences of the screens."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from tailblock.advice.results import HeldBack
from tailblock.cli.phrases import answer_text, held_lines, normal_text, stop_rule
from tailblock.cli.session import Session
from tailblock.inspection.answers import understand
from tailblock.knowledge.entries import Measure

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check

LEVELS = {"levels": [{"level": "fine", "up_to": "0.5 mm"}, {"level": "open"}]}
TWO_SIDED = {
    "normal": {"from": "2 mm", "to": "2.8 mm"},
    "levels_low": [{"level": "low"}],
    "levels_high": [{"level": "high"}],
}
ONLY_LOW = {"normal": {"from": "1/8 in"}, "levels_low": [{"level": "low"}]}
LADDER = {**LEVELS, "limits_when": [{"when": {"bracing": "ladder"}, **ONLY_LOW}]}
COUNT = {
    "quantity": "count",
    "unit": "1",
    "possible": {"from": "0", "to": "20"},
    "levels": [{"level": "none", "up_to": "0"}, {"level": "some"}],
}
LENGTH = {
    "quantity": "length",
    "unit": "mm",
    "possible": {"from": "0 mm", "to": "30 mm"},
    "gauge": {"resolution": "0.5 mm", "repeatability": "0.5 mm"},
}


def measured(small: Checklist, fields: Mapping[str, object]) -> Check:
    measure = Measure.model_validate({**LENGTH, **fields})
    return small.checks["bridge-feeler"].model_copy(update={"measure": measure})


@pytest.mark.parametrize(
    ("fields", "traits", "text"),
    [
        (LEVELS, {}, "up to 0.50 mm (.020 in)"),
        (TWO_SIDED, {}, "2.00 mm (5/64 in) to 2.80 mm (7/64 in)"),
        (ONLY_LOW, {}, "3.18 mm (1/8 in) or more"),
        (LADDER, {"bracing": "x"}, "up to 0.50 mm (.020 in)"),
        (LADDER, {"bracing": "ladder"}, "3.18 mm (1/8 in) or more"),
        (LADDER, {}, "up to 0.50 mm (.020 in) (most likely; it depends on a trait unknown)"),
    ],
)
def test_the_normal_band_in_both_systems(
    fields: dict[str, object], traits: dict[str, str], text: str, small: Checklist
) -> None:
    assert normal_text(measured(small, fields), traits, small) == text


def test_what_is_not_measured_has_no_normal_band(small: Checklist) -> None:
    assert normal_text(small.checks["pin-look"], {}, small) == ""


@pytest.mark.parametrize(
    ("check", "written", "text"),
    [
        ("bridge-light", "slight", "slight"),
        ("bridge-light", "unknown", "unknown"),
        ("bridge-feeler", "3 mm", "3 mm = 3.00 mm (7.5/64 in)"),
        ("bridge-feeler", "3", "3 (taken as 3 mm) = 3.00 mm (7.5/64 in)"),
    ],
)
def test_what_an_answer_was_taken_for(
    check: str, written: str, text: str, small: Checklist
) -> None:
    entry = small.checks[check]
    assert answer_text(entry, written, understand(entry, written)) == text


def test_a_count_has_no_unit(small: Checklist) -> None:
    entry = measured(small, COUNT)
    assert answer_text(entry, "3", understand(entry, "3")) == "3"


def held(setup: Mapping[str, str] | None = None, check: str | None = None) -> HeldBack:
    return HeldBack(setup, check, ("bridge-lifting",), ("bridge-light",), ())


NO_PITCH = "Do not bring it to pitch"
CLEAR = "What would clear it: Shine along the bridge edge (bridge-light)."
PITCH, SLACK = {"strings": "at-pitch"}, {"strings": "slack"}
FEEL, SIGHT = "Feel for an open seam (bridge-feeler)", "Sight along the neck (neck-sight)"


@pytest.mark.parametrize(
    ("moves", "text"),
    [
        ([held(PITCH)], f"{NO_PITCH}: Bridge lifting (10 %)."),
        ([held(SLACK)], "Do not bring it up to slack: Bridge lifting (10 %)."),
        (
            [held(SLACK), held(PITCH), held(check="neck-sight")],
            f"{NO_PITCH}, nor up to slack: Bridge lifting (10 %). Nor load it by {SIGHT}.",
        ),
        (
            [held(check="neck-sight"), held(check="bridge-feeler")],
            f"Do not load it by {SIGHT} or {FEEL}: Bridge lifting (10 %).",
        ),
    ],
)
def test_what_is_held_back_in_one_line(moves: list[HeldBack], text: str, shop: Path) -> None:
    examined = Session.open(shop / "job.yaml", None).examined
    (line,) = held_lines(moves, examined)
    assert line.replace("\N{NO-BREAK SPACE}", " ") == f"{text} {CLEAR}"


@pytest.mark.parametrize(
    ("best", "told"),
    [(0.314, "brings 0.31."), (0.011, "brings 0.011, but a danger can still be cleared.")],
)
def test_when_it_is_enough_and_how_far_that_is(best: float, told: str, shop: Path) -> None:
    examined = Session.open(shop / "job.yaml", None).examined
    now = replace(examined, advice=replace(examined.advice, best_rate=best))
    assert stop_rule(now).replace("\N{NO-BREAK SPACE}", " ") == (
        "It is enough once no look brings 0.02 bits a minute and none could clear a danger; the "
        f"best now {told}"
    )
