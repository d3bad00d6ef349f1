"""Levels from the lowest outcome to the highest, their limits, leaks and chances."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.entries import Check
from tailblock.knowledge.levels import LimitMissing, edges_of, leak, levels_of, shown
from tailblock.measures import UnitError
from tailblock.measures.uncertainty import level_likelihoods

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

Make = Callable[..., Check]

FRAME = """\
tailblock: 1
id: small
title: Small
version: 1
parts: [{id: bridge, name: Bridge}]
faults:
  - {id: hump, part: bridge, name: H, plain: H, alone: seldom, harm: serious, pace: years,
     under_tension: fine}
checks:
  - id: look
    part: bridge
    title: Look
    ask: Up?
    how: Look.
    minutes: 1
"""
MEASURE = """\
    measure:
      quantity: length
      unit: mm
      possible: {from: -9 mm, to: 9 mm}
      gauge: {resolution: 0.1 mm, repeatability: 0.1 mm}
"""
CHOICES = "choices: [{level: none, text: N}, {level: slight, text: S}, {level: open, text: O}]"
UPWARD = (
    MEASURE + "      levels: [{level: none, up_to: 0.5}, {level: slight, up_to: 3}, {level: open}]"
)
# An action at fret 12: low from 1.5 mm, normal 1.9 to 2.7 mm, high to 3.2 mm and to 4 mm.
BOTH = (
    MEASURE
    + """\
      normal: {from: 1.9 mm, to: 2.7 mm}
      levels_low: [{level: low, down_to: 1.5 mm}, {level: very-low}]
      levels_high:
        [{level: high, up_to: 3.2 mm}, {level: very-high, up_to: 0.4 cm}, {level: extreme}]"""
)
DOWNWARD = (
    MEASURE
    + """\
      normal: {from: 2.4 mm}
      levels_low: [{level: low, down_to: 1/16 in}, {level: lower, down_to: 0.8}, {level: lowest}]"""
)
HIGH_SIDE = (
    MEASURE
    + """\
      normal: {to: 1 mm}
      levels_high: [{level: high}]"""
)


@pytest.fixture
def make(checklist: Callable[[str], Checklist]) -> Make:
    """Return a maker of checks from what they answer and show."""

    def check(answer: str, more: str = "") -> Check:
        return checklist(f"{FRAME}    {answer.strip()}\n{more}").checks["look"]

    return check


@pytest.mark.parametrize(
    ("answer", "ids", "normal", "low", "high"),
    [
        (CHOICES, ("none", "slight", "open"), 0, (), ("slight", "open")),
        (UPWARD, ("none", "slight", "open"), 0, (), ("slight", "open")),
        (
            BOTH,
            ("very-low", "low", "normal", "high", "very-high", "extreme"),
            2,
            ("low", "very-low"),
            ("high", "very-high", "extreme"),
        ),
        (DOWNWARD, ("lowest", "lower", "low", "normal"), 3, ("low", "lower", "lowest"), ()),
        (HIGH_SIDE, ("normal", "high"), 0, (), ("high",)),
    ],
    ids=["choices", "upward", "both", "downward", "high-side"],
)
def test_levels_run_from_the_lowest_outcome(
    make: Make,
    *,
    answer: str,
    ids: tuple[str, ...],
    normal: int,
    low: tuple[str, ...],
    high: tuple[str, ...],
) -> None:
    levels = levels_of(make(answer))
    assert (levels.ids, levels.normal, levels.low, levels.high) == (ids, normal, low, high)


@pytest.mark.parametrize(
    ("answer", "values", "sides"),
    [
        (UPWARD, (0.5, 3.0), ("below", "below")),
        (BOTH, (1.5, 1.9, 2.7, 3.2, 4.0), ("above", "above", "below", "below", "below")),
        (DOWNWARD, (0.8, 1.5875, 2.4), ("above", "above", "above")),  # 1/16 in = 25.4 mm / 16
        (HIGH_SIDE, (1.0,), ("below",)),
    ],
    ids=["upward", "both", "downward", "high-side"],
)
def test_edges_ascend_in_the_base_unit(
    make: Make, answer: str, values: tuple[float, ...], sides: tuple[str, ...]
) -> None:
    measure = make(answer).measure
    assert measure is not None
    edges = edges_of(measure, measure)
    assert edges.values == pytest.approx(values, abs=1e-12)
    assert edges.sides == sides


@pytest.mark.parametrize(
    ("value", "level"),
    [
        (1.49, "very-low"), (1.5, "low"), (1.89, "low"), (1.9, "normal"), (2.7, "normal"),
        (2.71, "high"), (3.2, "high"), (4.0, "very-high"), (4.01, "extreme"),
    ],
)  # fmt: skip
def test_a_value_on_a_limit_takes_the_milder_level(make: Make, value: float, level: str) -> None:
    check = make(BOTH)
    assert check.measure is not None
    edges = edges_of(check.measure, check.measure)
    fits = level_likelihoods(edges.values, value, 0.0, edges.sides)
    assert levels_of(check).ids[fits.index(1.0)] == level


def test_a_limit_that_is_missing_or_no_length(make: Make) -> None:
    missing = make(BOTH.replace("{level: high, up_to: 3.2 mm}", "{level: high}")).measure
    assert missing is not None
    with pytest.raises(LimitMissing, match="the level `high` has no limit: give it `up_to:"):
        edges_of(missing, missing)
    odd = make(BOTH.replace("3.2 mm", "3.2 deg")).measure
    assert odd is not None
    with pytest.raises(UnitError):
        edges_of(odd, odd)


@pytest.mark.parametrize(
    ("answer", "otherwise", "low", "high"),
    [
        # left out: seldom, rarely, very-rarely on each side, then halved
        (CHOICES, "", (), (0.10, 0.03)),
        (BOTH, "", (0.10, 0.03), (0.10, 0.03, 0.01)),
        (
            "choices: [" + ", ".join(f"{{level: l{i}, text: T}}" for i in range(6)) + "]",
            "",
            (),
            (0.10, 0.03, 0.01, 0.005, 0.0025),
        ),
        (CHOICES, "{slight: rarely, open: very-rarely}", (), (0.03, 0.01)),
        # a missing lower level takes the chance of the next higher one
        (CHOICES, "{open: often}", (), (0.6, 0.6)),
        # a missing higher level: its usual chance, at most half of the one below
        (CHOICES, "{slight: often}", (), (0.6, 0.03)),
        (CHOICES, "{slight: very-rarely}", (), (0.01, 0.005)),
        # a side that is not named has its usual chances
        (BOTH, "{low: rarely, very-low: very-rarely}", (0.03, 0.01), (0.10, 0.03, 0.01)),
        (BOTH, "{very-high: sometimes}", (0.10, 0.03), (0.30, 0.30, 0.01)),
    ],
)
def test_leaks(
    make: Make, answer: str, otherwise: str, low: tuple[float, ...], high: tuple[float, ...]
) -> None:
    chances = leak(make(answer, f"    otherwise: {otherwise}\n" if otherwise else ""))
    assert (chances.low, chances.high) == (low, high)


@pytest.mark.parametrize(
    ("answer", "at_least", "low", "high"),
    [
        (CHOICES, "at_least: {slight: usually, open: often}", (), (0.8, 0.6)),
        (CHOICES, "at_least: {open: often}", (), (0.6, 0.6)),  # at least open is at least slight
        (CHOICES, "at_least: {slight: usually}", (), (0.8, 0.0)),  # never open
        (BOTH, "at_least_high: {high: often}", (0.0, 0.0), (0.6, 0.0, 0.0)),
        (
            BOTH,
            "at_least_low: {very-low: seldom}, at_least_high: {very-high: often}",
            (0.1, 0.1),
            (0.6, 0.6, 0.0),
        ),
        (DOWNWARD, "at_least_low: {low: usually, lower: often}", (0.8, 0.6, 0.0), ()),
        (DOWNWARD, "at_least: {low: usually, lower: often}", (0.8, 0.6, 0.0), ()),  # the only side
        (HIGH_SIDE, "at_least: {high: often}", (), (0.6,)),
    ],
)
def test_chances_given_a_fault(
    make: Make, answer: str, at_least: str, low: tuple[float, ...], high: tuple[float, ...]
) -> None:
    check = make(answer, f"    shows: [{{fault: hump, {at_least}}}]\n")
    chances = shown(check, check.shows[0])
    assert (chances.low, chances.high) == (low, high)
