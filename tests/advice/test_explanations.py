"""Which faults together explain the readings: held against every state written out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np
import pytest

from advice.shop import SHOP, Bench, bench
from oracles.enumeration import enumerate_all
from tailblock.advice import explanations as together
from tailblock.advice.abnormal import abnormal
from tailblock.advice.ranking import rank
from tailblock.advice.reasons import reasons
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from tailblock.advice.explanations import Explanations
    from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], "Checklist"]

EVERYTHING = {"lamp": "open", "belly": "4.5 mm", "story": "hot"}


def explained(it: Bench) -> Explanations:
    reasoner = it.reasoner
    causes = rank(it.shop, it.compiled, reasoner.beliefs, reasoner.priors)
    why = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), {})
    readings = abnormal(it.shop, it.compiled, it.said)
    return together.explanations(it.compiled, readings, causes, why, reasoner)


def chance(
    it: Bench, asked: Sequence[str], present: Sequence[str], findings: Sequence[int]
) -> float:
    """Return P(exactly these of the faults asked about, these readings), by enumeration."""
    soft = {k: it.evidence.soft[k] for k in findings}
    truth = enumerate_all(it.compiled.network, Evidence(soft))
    agree = np.ones(len(truth.states), dtype=bool)
    for fault in asked:
        agree &= truth.states[:, it.compiled.node_of(fault)] == float(fault in present)
    return float(truth.weight[agree].sum())


def test_the_sets_are_the_most_probable_of_all_sets_of_faults_in_question(
    read_checklist: Read,
) -> None:
    it = bench(read_checklist(SHOP), EVERYTHING)
    found = explained(it)
    assert set(found.in_question) == {"lifting", "hump", "heat"}
    entered = list(it.evidence.soft)
    whole = chance(it, (), (), entered)
    sets = itertools.chain.from_iterable(
        itertools.combinations(found.in_question, size) for size in range(4)
    )
    every = {
        frozenset(faults): chance(it, found.in_question, faults, entered) / whole for faults in sets
    }
    assert sum(every.values()) == pytest.approx(1.0)
    best = sorted((p for p in every.values() if p >= together.LEAST), reverse=True)
    assert [one.probability for one in found.sets] == pytest.approx(best[: together.MOST_SETS])
    for one in found.sets:
        assert one.probability == pytest.approx(every[frozenset(one.faults)])


def test_a_reading_is_covered_by_the_fault_whose_absence_would_surprise_most(
    read_checklist: Read,
) -> None:
    it = bench(read_checklist(SHOP), EVERYTHING)
    found = explained(it)
    asked = found.in_question
    for one in found.sets:
        for reading in one.readings:
            finding = it.compiled.index[reading.check, reading.visit]

            def surprise(present: Sequence[str], finding: int = finding) -> float:
                said = chance(it, asked, present, [finding])
                return -math.log2(said / chance(it, asked, present, []))

            now = surprise(one.faults)
            raised = {
                fault: surprise([f for f in one.faults if f != fault]) - now for fault in one.faults
            }
            best = max(raised, key=raised.__getitem__, default="")
            if best and raised[best] >= together.COVERS:
                assert reading.fault == best
                assert reading.bits == pytest.approx(raised[best])
            else:
                assert reading.fault is None


def test_looks_at_one_place_are_each_covered_though_either_stands_in_for_the_other(
    read_checklist: Read,
) -> None:
    # a second look at the gap: given the first it surprises little, even without the fault
    second = SHOP.replace(
        "checks:\n",
        "checks:\n"
        "  - {id: slip, part: bridge, title: Slip, ask: A?, how: Feel., minutes: 1,\n"
        "     choices: [{level: shut, text: N}, {level: open, text: Y}],\n"
        "     shows: [{symptom: gap, at_least: {open: 0.9}}]}\n",
    )
    it = bench(read_checklist(second), {"lamp": "open", "slip": "open"})
    (lifted, *_) = explained(it).sets
    assert {reading.check: reading.fault for reading in lifted.readings} == {
        "lamp": "lifting",
        "slip": "lifting",
    }


def test_a_reading_that_nothing_in_the_set_shows_is_covered_by_none(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {**EVERYTHING, "belly": "-3 mm"})
    for one in explained(it).sets:
        if "lifting" not in one.faults and "hump" not in one.faults:
            assert "lamp" in {reading.check for reading in one.uncovered}


def test_nothing_off_normal_has_nothing_to_explain(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "shut", "belly": "0 mm", "story": "none"})
    assert explained(it) == together.Explanations((), ())


def test_what_was_read_of_a_repaired_fault_is_past(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), EVERYTHING, {}, work=("reglue",))
    assert {reading.check for reading in abnormal(it.shop, it.compiled, it.said)} == {
        "belly",
        "story",
    }


def test_a_confirmed_fault_is_in_question_without_a_reading_to_speak_for_it(
    read_checklist: Read,
) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open"})
    hard = {it.compiled.node_of("lifting"): True}
    seen = Bench(it.shop, it.compiled, it.said, Evidence(it.evidence.soft, hard))
    (one,) = explained(seen).sets
    assert one.faults == ("lifting",)
    assert one.probability == pytest.approx(1.0)
    (reading,) = one.readings
    assert (reading.fault, reading.bits) == (None, 0.0)  # there is no instrument without it


def test_no_more_faults_are_in_question_than_can_be_told(
    read_checklist: Read, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(together, "MOST_FAULTS", 2)
    it = bench(read_checklist(SHOP), EVERYTHING)
    found = explained(it)
    assert len(found.in_question) == 2
    now = it.enumerated()
    beliefs = {f: now[it.compiled.node_of(f)] for f in it.shop.faults}
    best = sorted(("lifting", "hump", "heat"), key=lambda f: -beliefs[f])[:2]
    assert list(found.in_question) == best
