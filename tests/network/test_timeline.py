"""Faults from one visit to the next: work, weather and long gaps, against the formulas by hand."""

from __future__ import annotations

import math
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
import pytest

from oracles.enumeration import enumerate_all
from tailblock.inference import Reasoner
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

BENCH = """
tailblock: 1
id: visits
title: Faults over several visits
version: 1.0.0
parts: [{id: top, name: Top}]
faults:
  - {id: dry, part: top, name: Dry, plain: Dry., kind: climate, alone: seldom, harm: playability,
     pace: weeks, under_tension: watch, sources: [cp]}
  - {id: heat, part: top, name: Heat, plain: Hot once., kind: event, alone: rarely, harm: serious,
     pace: stable, under_tension: watch, sources: [cp]}
  - {id: brace, part: top, name: Brace loose, plain: A bar is loose., alone: rarely, harm: serious,
     pace: months, under_tension: danger, sources: [cp],
     caused_by: [{fault: heat, strength: often}, {fault: dry, strength: seldom}]}
  - {id: hump, part: top, name: Hump, plain: The top rises., alone: seldom, harm: serious,
     pace: stable, under_tension: watch, sources: [cp],
     caused_by: [{fault: brace, strength: usually}]}
symptoms:
  - {id: buzz, part: top, name: Buzz, alone: rarely, sources: [cp],
     caused_by: [{fault: brace, strength: usually}]}
  - {id: bulge, part: top, name: Bulge, alone: rarely, sources: [cp],
     caused_by: [{fault: hump, strength: almost-always}]}
checks:
  - {id: tap, part: top, title: Tap, ask: Does it buzz?, how: Tap., minutes: 1, sources: [cp],
     choices: [{level: none, text: No}, {level: some, text: Yes}],
     shows: [{symptom: buzz, at_least: {some: usually}}]}
  - {id: look, part: top, title: Look, ask: Does it bulge?, how: Look., minutes: 1, sources: [cp],
     choices: [{level: none, text: No}, {level: some, text: Yes}, {level: much, text: Much}],
     shows: [{symptom: bulge, at_least: {some: usually, much: often}},
             {fault: dry, at_least: {some: sometimes}}]}
remedies:
  - {id: reglue, part: top, name: Glue the brace, plain: Glue the bar., reversible: true,
     fixes: [{fault: brace, how_well: almost-always}], may_leave: [{fault: hump, chance: rarely}],
     hours: {low: 1, likely: 2, high: 4}, sources: [cp]}
sources:
  - {id: cp, kind: common-practice, citation: Common practice, seen: not-applicable}
"""
DAY_0 = date(2031, 3, 2)


@pytest.fixture
def bench(checklist: Callable[..., Checklist]) -> Checklist:
    return checklist(BENCH, "visits")


def posterior(
    bench: Checklist,
    visits: list[VisitSkeleton],
    read: dict[tuple[str, int], tuple[float, ...]],
    confirmed: dict[tuple[str, int], bool] | None = None,
) -> dict[tuple[str, int], float]:
    """Return every fault and symptom on every visit, checked against enumeration on the way."""
    compiled = compile_network(bench, {}, visits)
    soft = {}
    for (check, visit), row in read.items():
        finding = compiled.finding_of(check, visit)
        assert finding is not None
        soft[finding] = row
    seen = (confirmed or {}).items()
    hard = {compiled.node_of(fault, visit): there for (fault, visit), there in seen}
    evidence = Evidence(soft, hard)
    ours = Reasoner(compiled.network, evidence).beliefs.probability
    truth = enumerate_all(compiled.network, evidence).posterior
    assert np.abs(ours - truth).max() < 1e-9
    return {
        (entry, visit): float(ours[node])
        for visit, nodes in enumerate(compiled.current)
        for entry, node in nodes.items()
    }


def test_without_work_a_fault_is_the_same_on_both_visits(bench: Checklist) -> None:
    visits = [VisitSkeleton("arrival", DAY_0), VisitSkeleton("opened", date(2031, 3, 9))]
    compiled = compile_network(bench, {}, visits)
    same = {entry for entry, node in compiled.current[0].items() if compiled.node_of(entry) == node}
    assert same == {"heat", "brace", "hump", "buzz", "bulge"}  # the weather alone is new


def test_looking_again_at_the_same_gap_is_not_new_evidence(bench: Checklist) -> None:
    visits = [VisitSkeleton("arrival", DAY_0), VisitSkeleton("opened", date(2031, 3, 3))]
    once = posterior(bench, visits, {("tap", 0): (1, 0)})["brace", 1]
    twice = posterior(bench, visits, {("tap", 0): (1, 0), ("tap", 1): (1, 0)})["brace", 1]
    start = posterior(bench, visits, {})["brace", 1]
    # however often one looks through a symptom of strength 0.8, odds of start x 0.2 remain
    assert twice > start / (1 - start) * 0.2 / (1 + start / (1 - start) * 0.2)
    assert once > twice


def test_work_leaves_what_the_formula_says(bench: Checklist) -> None:
    visits = [
        VisitSkeleton("arrival", DAY_0),
        VisitSkeleton("first-stringing", date(2031, 3, 9), ("reglue",)),
    ]
    found = posterior(bench, visits, {("tap", 0): (0, 1)})
    assert found["brace", 1] == pytest.approx(found["brace", 0] * (1 - 0.95), abs=1e-12)
    # the hump stays, damage done, and the work may add one: 1 - (1 - P) (1 - 0.03)
    assert found["hump", 1] == pytest.approx(1 - (1 - found["hump", 0]) * 0.97, abs=1e-12)
    assert found["heat", 1] == found["heat", 0]


@pytest.mark.parametrize("gap", [1, 21, 60])
def test_the_weather_forgets_by_the_day(bench: Checklist, gap: int) -> None:
    later = date.fromordinal(DAY_0.toordinal() + gap)
    visits = [VisitSkeleton("arrival", DAY_0), VisitSkeleton("settled", later)]
    found = posterior(bench, visits, {("look", 0): (0, 1, 0)})
    kept = math.exp(-gap / 21)
    was = found["dry", 0]
    expected = was * (kept + (1 - kept) * 0.10) + (1 - was) * (1 - kept) * 0.10
    assert found["dry", 1] == pytest.approx(expected, abs=1e-12)


def test_after_a_long_gap_a_condition_may_have_set_in(bench: Checklist) -> None:
    visits = [VisitSkeleton("arrival", DAY_0), VisitSkeleton("follow-up", date(2031, 8, 29))]
    found = posterior(bench, visits, {("tap", 0): (1, 0)})
    share = 180 / 365.25  # the pace "months" is spread over a year
    new = 0.03 * min(1.0, share)
    expected = 1 - (1 - found["brace", 0]) * (1 - new)
    assert found["brace", 1] == pytest.approx(expected, rel=1e-3)
    assert found["hump", 1] == pytest.approx(found["hump", 0], abs=1e-12)  # stable things stay


def test_three_visits_with_work_and_readings_equal_enumeration(bench: Checklist) -> None:
    visits = [
        VisitSkeleton("arrival", DAY_0),
        VisitSkeleton("first-stringing", date(2031, 3, 9), ("reglue",)),
        VisitSkeleton("follow-up", date(2031, 9, 9)),
    ]
    read = {
        ("tap", 0): (0.0, 1.0),
        ("look", 0): (0.0, 1.0, 0.4),
        ("tap", 1): (1.0, 0.0),
        ("look", 2): (0.0, 0.3, 1.0),
    }
    found = posterior(bench, visits, read)
    assert found["brace", 2] > found["brace", 1]  # repaired, while the cause stays


# Three visits: as it came, after the work, and half a year later.
JOB = [
    VisitSkeleton("arrival", DAY_0),
    VisitSkeleton("first-stringing", date(2031, 3, 9), ("reglue",)),
    VisitSkeleton("follow-up", date(2031, 9, 9)),
]


@pytest.mark.parametrize(
    "confirmed",
    [
        {("brace", 0): True},
        {("brace", 1): False},
        {("brace", 0): True, ("brace", 2): True},
        {("brace", 0): True, ("brace", 1): False, ("brace", 2): True, ("hump", 1): False},
        {("heat", 2): True, ("dry", 1): False},
    ],
)
def test_confirmed_faults_of_three_visits_equal_enumeration(
    bench: Checklist, confirmed: dict[tuple[str, int], bool]
) -> None:
    read = {("tap", 0): (0.0, 1.0), ("look", 1): (0.0, 1.0, 0.4), ("tap", 2): (1.0, 0.2)}
    found = posterior(bench, JOB, read, confirmed)
    for place, there in confirmed.items():
        assert found[place] == pytest.approx(float(there), abs=1e-12)


def test_what_the_opened_brace_showed_decides_what_the_repair_can_have_left(
    bench: Checklist,
) -> None:
    found = posterior(bench, JOB, {("tap", 0): (0.0, 1.0)}, {("brace", 0): True})
    # almost always cured: 0.05 stays; by the formula alone, whatever was read before it was seen
    assert found["brace", 1] == pytest.approx(0.05, abs=1e-12)


def test_a_fault_found_later_says_something_about_the_repair(bench: Checklist) -> None:
    loose = {("brace", 0): True}
    before = posterior(bench, JOB, {}, loose)["brace", 1]
    after = posterior(bench, JOB, {("tap", 2): (0.0, 1.0)}, loose)["brace", 1]
    assert after > before  # the second inspection overturns what was taken for repaired
