"""Inspections of drawn instruments: what counts as found, and that runs are what they say."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.stats import chisquare, entropy

from advice.shop import SHOP
from tailblock.advice import CauseBelief
from tailblock.advice.ranking import decibans
from tailblock.inspection.record import Inspection, Instrument
from tailblock.pipeline import examine
from tailblock.practice.bench import Bench, Engine
from tailblock.practice.self_consistency import (
    ORDERS,
    Point,
    Run,
    Trials,
    complaint_of,
    drawn_traits,
    from_data,
    leads,
)
from tailblock.practice.simulated import draw_instrument, draw_instruments

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition

HEAD, REST = SHOP.split("faults:", maxsplit=1)
COMPLAINT = """
  - {id: c-creak, part: bridge, title: It creaks, ask: A?, how: Ask., minutes: 0.5, asked: player,
     choices: [{level: "no", text: N}, {level: "yes", text: Y}],
     shows: [{symptom: gap, at_least: {"yes": 0.9}}]}
"""
TRAITS = {"bridge": "pin"}


@pytest.fixture
def shop(checklist: Callable[..., Checklist]) -> Checklist:
    rest = "faults:" + REST.replace("\nremedies:", COMPLAINT + "remedies:")
    head = "tailblock: 1\nid: shop\ntitle: Shop\nversion: 1.0.0\n" + HEAD
    return checklist({"checklist.yaml": head, "all.yaml": rest}, "shop")


def test_the_bench_knows_and_advises_what_the_whole_examination_does(shop: Checklist) -> None:
    hidden = draw_instrument(shop, TRAITS, 3, ("lifting",))
    bench = Bench(Engine(shop, TRAITS, "arrival"), hidden)
    for _ in range(4):
        inspection = Inspection(Path("x"), "", "1", "shop", Instrument("i", TRAITS), (bench.visit,))
        examined = examine(shop, inspection)
        assert bench.known.causes == examined.causes
        assert bench.minutes == examined.advice.minutes_used
        advised = examined.advice.advice
        assert bench.advised() == ((advised[0].check, advised[0].step) if advised else None)
        if not advised:
            break
        bench.do(advised[0].check)
    assert len(bench.visit.readings) >= 3


def test_uncertainty_is_the_weighted_entropy_of_the_faults(shop: Checklist) -> None:
    known = Bench(Engine(shop, TRAITS, "arrival"), draw_instrument(shop, TRAITS, 0)).known
    # harm times pace, events a quarter: serious 1 x months 1; heat 1 x stable 0.7 x 0.25; dome 0
    weights = {"lifting": 1.0, "hump": 1.0, "heat": 0.175, "dome": 0.0}
    expected = sum(
        weights[fault] * float(entropy([p, 1 - p], base=2))
        for fault, p in known.probability.items()
    )
    assert known.uncertainty == pytest.approx(expected)


def belief(id_: str, probability: float, lead: float, prior: float = 0.1) -> CauseBelief:
    moved = decibans(probability, prior)
    return CauseBelief(
        id_, id_, id_, "top", "condition", "serious", probability, prior, moved, lead
    )


@pytest.mark.parametrize(
    ("causes", "there", "found"),
    [
        ([belief("a", 0.6, 0.5)], {"a"}, True),
        ([belief("a", 0.49, 0.4)], {"a"}, False),  # not probable
        ([belief("a", 0.6, 0.02, prior=0.58)], {"a"}, False),  # everybody has it
        ([belief("a", 0.9, 0.25, prior=0.8)], {"a"}, True),  # likely before, and raised enough
        ([belief("a", 0.9, 0.24, prior=0.8)], {"a"}, False),  # not as much as the verdict asks
        ([belief("a", 0.6, 0.5), belief("b", 0.9, 0.8)], {"a"}, False),  # a wrong one leads
        ([belief("a", 0.6, 0.5), belief("b", 0.9, 0.8)], {"a", "b"}, True),  # a true one does
        ([belief("a", 0.6, 0.5), belief("b", 0.4, 0.6)], {"a"}, True),  # b is not probable
        ([belief("a", 0.6, 0.0), belief("b", 0.9, 0.8)], {"a"}, True),  # a weighs nothing
        ([belief("a", 0.6, 0.0, prior=0.55)], {"a"}, False),  # 0.9 decibans: not raised
    ],
)
def test_a_fault_leads_if_it_is_probable_and_nothing_that_is_not_there_leads_before_it(
    causes: list[CauseBelief], there: set[str], found: bool
) -> None:
    assert leads("a", causes, there) is found


def test_a_point_says_what_of_a_fault_is_so_whatever_leads_before_it() -> None:
    second = Point("x", 1.0, 5.0, 0.5, leads=False, place=2)
    assert (second.probable, second.among_first) == (True, True)
    fourth = Point("x", 1.0, 5.0, 0.49, leads=False, place=4)
    assert (fourth.probable, fourth.among_first) == (False, False)
    assert not Point("x", 1.0, 5.0, 0.9, leads=False, place=0).among_first  # it has no lead


def test_the_complaint_is_one_that_shows_the_fault_and_was_answered_so(shop: Checklist) -> None:
    drawn = list(draw_instruments(shop, TRAITS, range(60), ("lifting",)))
    complaints = Counter(complaint_of(hidden, "lifting") for hidden in drawn)
    assert complaints["c-creak"] == sum(hidden.levels["c-creak"] == "yes" for hidden in drawn) > 0
    assert complaints[None] == 60 - complaints["c-creak"]
    assert all(complaint_of(hidden, "dome") is None for hidden in drawn)


@pytest.mark.parametrize("order", ORDERS)
def test_a_run_reads_each_check_once_and_keeps_within_its_minutes(
    order: str, shop: Checklist
) -> None:
    run = Trials(shop, "arrival", ("belly", "lamp")).run("lifting", 2, order)  # type: ignore[arg-type]
    checks = [point.check for point in run.points if point.check]
    assert len(checks) == len(set(checks)) > 0
    assert set(checks) <= ({"belly", "lamp", "c-creak"} if order == "fixed" else set(shop.checks))
    minutes = [point.minutes for point in run.points]
    assert minutes == sorted(minutes)
    assert minutes[-1] <= 30.0
    assert run == Trials(shop, "arrival", ("belly", "lamp")).run("lifting", 2, order)  # type: ignore[arg-type]
    assert from_data(run.as_data()) == run


def test_all_orders_begin_with_the_same_instrument_and_complaint(shop: Checklist) -> None:
    trials = Trials(shop, "arrival", ("belly",))
    begun = {trials.run("lifting", 5, order).points[0] for order in ORDERS}
    assert len(begun) == 1


def test_random_order_is_any_order(shop: Checklist) -> None:
    trials = Trials(shop, "arrival", ())
    first = Counter(trials.run("dome", draw, "random").points[1].check for draw in range(200))
    assert set(first) == {"lamp", "story", "belly", "c-creak"}
    assert chisquare(list(first.values())).pvalue > 0.001


def point(minutes: float, bits: float, *, leads: bool = False) -> Point:
    return Point("x", minutes, bits, 0.5, leads)


def test_what_a_run_tells() -> None:
    run = Run(
        "a", 0, "advice", (point(0, 9), point(5, 7), point(12, 6, leads=True), point(20, 5)), ""
    )
    assert run.found == point(12, 6, leads=True)
    assert run.checks == 2
    assert [run.uncertainty_at(minutes) for minutes in (0, 4.9, 12, 30)] == [9, 9, 6, 5]
    late = replace(run, points=(*[point(i, 9) for i in range(61)], point(61, 9, leads=True)))
    assert (late.found, late.checks) == (None, None)  # 60 checks were not enough


def test_traits_are_drawn_by_their_shares_and_as_the_fault_needs_them(
    checklist: Callable[..., Checklist],
) -> None:
    text = SHOP.replace(
        "traits: [",
        "traits: [{id: bracing, ask: A, values: [x, ladder, unknown], "
        "shares: {x: 0.8, ladder: 0.2}}, ",
    )
    shop = checklist(f"tailblock: 1\nid: s\ntitle: S\nversion: 1.0.0\n{text}", "s")
    drawn = [drawn_traits(shop, draw, {}) for draw in range(500)]
    assert {traits["bridge"] for traits in drawn} == {"pin"}  # no shares: the first
    share = np.mean([traits["bracing"] == "x" for traits in drawn])
    assert share == pytest.approx(0.8, abs=4 * np.sqrt(0.16 / 500))
    wanted: Condition = {"bracing": ("ladder",), "bridge": ("floating",)}
    assert drawn_traits(shop, 1, wanted) == {"bracing": "ladder", "bridge": "floating"}
    assert drawn_traits(shop, 7, {}) == drawn_traits(shop, 7, {})
