"""How far the readings moved a fault, and what that is worth."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice.ranking import behind_causes, decibans, explained_by, weight
from tailblock.knowledge.checklist import Checklist
from tailblock.network.compile import Compiled, compile_network
from tailblock.network.timeline import VisitSkeleton

Read = Callable[[str], Checklist]


@pytest.mark.parametrize(
    ("probability", "prior", "db"),
    [
        (0.5, 0.5, 0.0),
        (0.5, 1 / 11, 10.0),  # odds 1 against 1/10
        (10 / 11, 0.5, 10.0),
        (1 / 11, 0.5, -10.0),
        (0.2, 0.1, 10 * math.log10(2.25)),  # 1/4 against 1/9
        (1.0, 0.5, 120.0),  # certainty is kept at one in a million million
        (0.0, 0.5, -120.0),
        (1.0, 0.0, 240.0),
        (1.0, 1.0, 0.0),
        (0.0, 0.0, 0.0),
    ],
)
def test_decibans_are_ten_times_the_log_of_the_odds_ratio(
    probability: float, prior: float, db: float
) -> None:
    assert decibans(probability, prior) == pytest.approx(db, abs=1e-3)


CHANCE = st.floats(0.0, 1.0)


@given(CHANCE, CHANCE, CHANCE)
def test_weights_of_evidence_add_up_along_the_way(a: float, b: float, c: float) -> None:
    assert decibans(a, b) + decibans(b, c) == pytest.approx(decibans(a, c), abs=1e-9)


@given(CHANCE, CHANCE)
def test_decibans_are_finite_and_have_the_sign_of_the_change(a: float, b: float) -> None:
    moved = decibans(a, b)
    assert math.isfinite(moved)
    assert moved * (a - b) >= 0.0


FAULTS = """
parts: [{id: top, name: Top}]
faults:
"""


@pytest.mark.parametrize(
    ("harm", "pace", "kind", "wanted"),
    [
        ("none", "any-moment", "condition", 0.0),
        ("cosmetic", "months", "condition", 0.2),
        ("playability", "months", "condition", 0.5),
        ("serious", "months", "condition", 1.0),
        ("destructive", "months", "condition", 1.5),
        ("serious", "stable", "condition", 0.7),
        ("serious", "years", "condition", 0.8),
        ("serious", "weeks", "condition", 1.2),
        ("serious", "any-moment", "condition", 1.5),
        ("destructive", "any-moment", "condition", 2.25),
        ("serious", "months", "event", 0.25),
        ("serious", "months", "climate", 1.0),
    ],
)
def test_a_fault_weighs_harm_times_pace_and_the_past_a_quarter(
    read_checklist: Read, harm: str, pace: str, kind: str, wanted: float
) -> None:
    shop = read_checklist(
        FAULTS + f"  - {{id: it, part: top, name: I, plain: I, alone: 0.1, harm: {harm}, "
        f"pace: {pace}, kind: {kind}, under_tension: fine}}\n"
    )
    assert weight(shop.faults["it"], shop.limits) == pytest.approx(wanted)


def test_the_weights_are_the_checklists_own(read_checklist: Read) -> None:
    shop = read_checklist(
        FAULTS + "  - {id: it, part: top, name: I, plain: I, alone: 0.1, harm: serious, "
        "pace: weeks, kind: event, under_tension: fine}\n"
        "limits: {harm_weight: {serious: 2}, pace_weight: {weeks: 3}, event_weight: 0.5}\n"
    )
    assert weight(shop.faults["it"], shop.limits) == 3.0


CHAIN = """
parts: [{id: top, name: Top}]
faults:
  - {id: dry, part: top, name: D, plain: D, alone: 0.1, harm: playability, pace: months,
     under_tension: watch}
  - {id: ends, part: top, name: E, plain: E, alone: 0.1, harm: playability, pace: months,
     under_tension: fine, caused_by: [{fault: dry, strength: 0.8}]}
  - {id: ends-chipped, part: top, name: C, plain: C, alone: 0.1, harm: playability, pace: months,
     under_tension: fine, caused_by: [{fault: ends, strength: 0.8}, {fault: dry, strength: 0.05}]}
  - {id: lifting, part: top, name: L, plain: L, alone: 0.1, harm: serious, pace: months,
     under_tension: danger, caused_by: [{fault: dry, strength: 0.8}]}
  - {id: old, part: top, name: O, plain: O, alone: 0.1, harm: serious, pace: years,
     under_tension: watch}
  - {id: bent, part: top, name: B, plain: B, alone: 0.1, harm: playability, pace: years,
     under_tension: watch, caused_by: [{fault: old, strength: 0.8}]}
remedies:
  - {id: moisten, part: top, name: M, plain: M, hours: {low: 1, likely: 2, high: 3},
     fixes: [{fault: dry, how_well: 0.8}, {fault: ends, how_well: 0.5},
       {fault: old, how_well: 0.49}], reversible: true}
"""
IDS = ("dry", "ends", "ends-chipped", "lifting")


@pytest.fixture
def chain(read_checklist: Read) -> tuple[Checklist, Compiled]:
    shop = read_checklist(CHAIN)
    return shop, compile_network(shop, {}, [VisitSkeleton("arrival", date(2031, 3, 2))])


def test_a_cause_explains_what_it_has_more_likely_than_not_brought_about(
    chain: tuple[Checklist, Compiled],
) -> None:
    # both there: 0.8 / (1 - 0.9 x 0.2) = 0.98, and 0.05 / (1 - 0.9 x 0.95) = 0.34
    explained = explained_by(chain[1])
    assert {fault: explained[fault] for fault in IDS} == {
        "dry": (),
        "ends": ("dry",),
        "ends-chipped": ("ends",),
        "lifting": ("dry",),
    }


@pytest.mark.parametrize(
    ("lead", "probability", "order"),
    [
        # consequences stand behind their causes, all the way down, a danger behind nothing
        ((1.0, 2.0, 3.0, 4.0), (0.9, 0.9, 0.9, 0.9), ("lifting", "dry", "ends", "ends-chipped")),
        # what leads anyway keeps its place
        ((4.0, 3.0, 2.0, 1.0), (0.9, 0.9, 0.9, 0.9), ("dry", "ends", "ends-chipped", "lifting")),
        # a cause that is only probable holds nothing back
        ((1.0, 2.0, 0.0, 0.0), (0.79, 0.9, 0.1, 0.1), ("ends", "dry")),
        ((1.0, 2.0, 0.0, 0.0), (0.80, 0.9, 0.1, 0.1), ("dry", "ends")),
        # nor does one that the readings have hardly raised
        ((0.24, 2.0, 0.0, 0.0), (0.95, 0.9, 0.1, 0.1), ("ends", "dry")),
    ],
)
def test_no_consequence_leads_before_a_sure_cause(
    chain: tuple[Checklist, Compiled],
    lead: tuple[float, ...],
    probability: tuple[float, ...],
    order: tuple[str, ...],
) -> None:
    kept = behind_causes(*chain, IDS, np.array(lead), np.array(probability))
    by_lead = sorted(zip(IDS, kept.tolist(), strict=True), key=lambda pair: -pair[1])
    assert tuple(fault for fault, ahead in by_lead if ahead > 0) == order
    assert (kept <= np.array(lead)).all()
    many = behind_causes(*chain, IDS, np.array([lead] * 2).T, np.array([probability] * 2).T)
    assert (many == kept[:, None]).all()  # the same for each network of a batch


def test_a_cause_that_no_work_mends_is_not_told_first(chain: tuple[Checklist, Compiled]) -> None:
    lead, probability = np.array([1.0, 2.0]), np.array([0.9, 0.9])
    assert (behind_causes(*chain, ("old", "bent"), lead, probability) == lead).all()
