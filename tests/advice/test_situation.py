"""Where a visit stands."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tailblock.advice.situation import Situation
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]
Stand = Callable[..., Situation]

SHOP = """
parts: [{id: bridge, name: Bridge}]
faults:
  - {id: lifting, part: bridge, name: L, plain: L, alone: seldom, harm: serious, pace: months,
     under_tension: danger}
checks:
  - {id: look, part: bridge, title: L, ask: A?, how: Look., minutes: 1,
     choices: [{level: shut, text: N}, {level: slight, text: S}, {level: open, text: Y}],
     shows: [{fault: lifting, at_least: {open: often}}]}
  - id: action
    part: bridge
    title: Action
    ask: How high?
    how: Measure.
    minutes: 2
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 12 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.4 mm}
      normal: {from: 2.0 mm, to: 2.8 mm}
      levels_low: [{level: low, down_to: 1.5 mm}, {level: very-low}]
      levels_high: [{level: high, up_to: 3.6 mm}, {level: very-high}]
    shows: [{fault: lifting, at_least_high: {high: often}}]
"""


@pytest.mark.parametrize(
    ("value", "level", "reached"),
    [
        ("2.4 mm", "normal", {"normal"}),
        ("2.8 mm", "normal", {"normal"}),  # on the limit it is the milder level
        ("2.0 mm", "normal", {"normal"}),
        ("3.0 mm", "high", {"high"}),
        ("5 mm", "very-high", {"high", "very-high"}),
        ("1.6 mm", "low", {"low"}),
        ("1 mm", "very-low", {"low", "very-low"}),
    ],
)
def test_a_value_reaches_its_level_and_the_milder_ones_on_its_side(
    read_checklist: Read, situation: Stand, value: str, level: str, reached: set[str]
) -> None:
    visit = f"setup: {{strings: at-pitch}}\nreadings: [{{check: action, value: {value}}}]\n"
    stand = situation(read_checklist(SHOP), visit)
    assert stand.levels == {"action": level}
    levels = ("very-low", "low", "normal", "high", "very-high")
    assert {name for name in levels if stand.reached("action", name)} == reached


@pytest.mark.parametrize(
    ("value", "reached"),
    [("shut", {"shut"}), ("slight", {"slight"}), ("open", {"slight", "open"}), (None, set())],
)
def test_an_answer_reaches_its_level(
    read_checklist: Read, situation: Stand, value: str | None, reached: set[str]
) -> None:
    visit = f"readings: [{{check: look, value: {value}}}]\n" if value else "{}"
    stand = situation(read_checklist(SHOP), visit)
    assert {name for name in ("shut", "slight", "open") if stand.reached("look", name)} == reached


def test_the_last_answer_stands_and_unknown_erases_nothing(
    read_checklist: Read, situation: Stand
) -> None:
    readings = ["slight", "open", "unknown"]
    listed = ", ".join(f"{{check: look, value: {value}}}" for value in readings)
    stand = situation(read_checklist(SHOP), f"readings: [{listed}]\n")
    assert stand.levels == {"look": "open"}
    assert stand.unknown == {"look"}


def test_minutes_count_looks_in_vain_and_changes_of_setup(
    read_checklist: Read, situation: Stand
) -> None:
    visit = """
setup: {strings: at-pitch}
readings:
  - {check: action, value: 2 mm}
  - {check: look, value: unknown}
  - {check: look, value: shut, setup: {strings: slack}}
"""
    stand = situation(read_checklist(SHOP), visit)
    assert stand.minutes_used == 2 + 1 + 3 + 1
    assert (stand.present, stand.at_pitch) == ({"strings": "slack"}, False)


@pytest.mark.parametrize(
    ("since", "minutes"), [("", 2 + 1), ("since: {strings: slack}\n", 2 + 1 + 3)]
)
def test_a_setup_that_was_told_costs_its_way_and_no_check_again(
    since: str, minutes: int, read_checklist: Read, situation: Stand
) -> None:
    readings = "[{check: action, value: 2 mm}, {check: look, value: shut}]"
    stand = situation(
        read_checklist(SHOP), f"setup: {{strings: at-pitch}}\nreadings: {readings}\n{since}"
    )
    assert stand.minutes_used == minutes
    assert stand.present == {"strings": "slack" if since else "at-pitch"}
