"""Cases to practise on: what each level and theme promises, and closed inspections."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.advice.next_check import MATTERS
from tailblock.advice.ranking import weights
from tailblock.inspection import store
from tailblock.knowledge.coverage import through
from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.knowledge.levels import levels_of
from tailblock.practice.case_faults import LEVELS, Level
from tailblock.practice.cases import (
    Case,
    NoSuchCase,
    NotClosed,
    closed_case,
    draw_case,
)
from tailblock.practice.themes import NoSuchTheme, of_theme

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

CLOSED = """\
tailblock: 1
job: "1"
checklist: bench
instrument: {description: the guitar of a known player, traits: {bridge: pin}}
player: {name: Somebody}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: at-pitch}
    readings:
      - {check: edge-look, value: light}
      - {check: relief, value: 0.42 mm}
      - {check: smell, value: unknown}
"""
SEEN = "    confirmed: [{fault: bridge-lifting, present: true}]\n"
LATER = """\
  - stage: arrival
    date: 2031-03-09
    work: [{remedy: bridge-reglue, hours: 3}]
    readings: [{check: edge-look, value: dark}]
"""


@cache
def flat_top() -> Checklist:
    return shipped("flat-top")


def off_normal(case: Case, check: str) -> bool:
    levels = levels_of(case.checklist.checks[check])
    return case.hidden.levels[check] != levels.ids[levels.normal]


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("seed", range(3))
def test_a_case_keeps_what_its_level_promises(level: Level, seed: int) -> None:
    case = draw_case(flat_top(), seed, level)
    asked = case.to_find[:level]
    shows = {
        fault: {
            id_
            for id_, check in through(flat_top())[fault].items()
            if check.asked == "bench" and check.derived is None and id_ in case.hidden.levels
        }
        for fault in asked
    }
    assert case.hidden.faults.issuperset(case.to_find)
    assert all(any(off_normal(case, check) for check in checks) for checks in shows.values())
    assert len(case.complaints) == 1
    assert flat_top().checks[case.complaints[0]].asked == "player"
    assert off_normal(case, case.complaints[0])
    if level == 1:
        assert len(case.to_find) == 1
        assert sum(off_normal(case, check) for check in shows[asked[0]]) >= 2
    elif level == 2:
        assert shows[asked[0]].isdisjoint(shows[asked[1]])
    else:
        assert all(
            any(shows[one] & shows[other] for other in asked if other != one) for one in asked
        )
    weighty = {
        id_
        for id_ in case.hidden.faults
        if weights(flat_top())[id_] >= MATTERS and flat_top().faults[id_].kind == "condition"
    }
    assert weighty <= set(case.to_find)


def test_the_same_seed_makes_the_same_case() -> None:
    assert draw_case(flat_top(), 5, 2, "part:top") == draw_case(flat_top(), 5, 2, "part:top")
    assert draw_case(flat_top(), 5, 2) != draw_case(flat_top(), 6, 2)


def test_a_theme_is_about_what_it_says() -> None:
    faults = flat_top().faults
    assert {faults[f].part for f in of_theme(flat_top(), "part:nut")} == {"nut"}
    assert {faults[f].under_tension for f in of_theme(flat_top(), "danger")} == {"danger"}
    assert {faults[f].harm for f in of_theme(flat_top(), "harmless")} == {"none"}
    dry = of_theme(flat_top(), "after:climate-dry")
    assert "climate-dry" in dry
    assert set(dry) < set(of_theme(flat_top(), ""))
    assert "climate-dry" in of_theme(flat_top(), "climate")
    assert draw_case(flat_top(), 1, 1, "part:nut").to_find[0] in of_theme(flat_top(), "part:nut")


def test_a_theme_that_there_is_not_is_refused(bench: Checklist) -> None:
    with pytest.raises(NoSuchTheme, match="write one of part:PART, after:FAULT"):
        draw_case(bench, 1, 1, "bridge")
    with pytest.raises(NotInTheChecklist, match="did you mean `bridge`"):
        draw_case(bench, 1, 1, "part:brigde")
    with pytest.raises(NotInTheChecklist):
        draw_case(bench, 1, 1, "after:nothing")


def test_where_nobody_can_complain_there_is_no_case(bench: Checklist) -> None:
    with pytest.raises(NoSuchCase, match="no case of level 1 about part:neck came up"):
        draw_case(bench, 1, 1, "part:neck")


def closed(bench: Checklist, text: str) -> Case:
    inspection = store.from_bytes(text.encode(), Path("job.yaml"), lambda _: bench)
    return closed_case(bench, inspection, 4)


def test_a_closed_case_answers_as_it_did_and_tells_no_name(bench: Checklist) -> None:
    case = closed(bench, CLOSED + SEEN)
    assert case.to_find == ("bridge-lifting",)
    assert case.hidden.levels["edge-look"] == "light"
    assert (case.hidden.values["relief"], case.hidden.levels["relief"]) == (0.42, "large")
    assert case.setup == {"strings": "at-pitch"}
    assert case.source == "closed case"
    assert "known player" not in repr(case)
    assert "Somebody" not in repr(case)


def test_what_was_mended_later_was_there_when_it_came_in(bench: Checklist) -> None:
    absent = SEEN.replace("true", "false")
    case = closed(bench, CLOSED + SEEN + LATER + absent)
    assert case.to_find == ("bridge-lifting",)
    assert case.hidden.levels["edge-look"] == "light"


def test_a_case_that_nobody_has_seen_into_is_refused(bench: Checklist) -> None:
    with pytest.raises(NotClosed, match=r"job\.yaml: no fault is confirmed as there"):
        closed(bench, CLOSED)
