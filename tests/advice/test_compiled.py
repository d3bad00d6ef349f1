"""What advice reads off a compiled network: ranking, gains, what checks show, reasons, trails.

The numbers are held against plain enumeration of every state (`oracles.enumeration`).
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from advice.shop import SHOP, bench
from tailblock.advice.candidates import candidates, findings_of
from tailblock.advice.gain import Gain, gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.ranking import rank
from tailblock.advice.reasons import reasons
from tailblock.advice.results import Settling
from tailblock.advice.shows import at_the_top, looked_at, shown
from tailblock.advice.situation import Situation
from tailblock.inference import Reasoner
from tailblock.knowledge.checklist import Checklist
from tailblock.network.arrays import Evidence

Read = Callable[[str], Checklist]
Stand = Callable[..., Situation]

# --- ranking -----------------------------------------------------------------------------------


def test_all_faults_that_apply_are_ranked_by_probability(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open", "belly": "1.9 mm"})
    before = bench(it.shop, {})
    causes = rank(it.shop, it.compiled, it.reasoner.beliefs, before.reasoner.beliefs)
    now, start = it.enumerated(), before.enumerated()
    assert {cause.id for cause in causes} == {"lifting", "hump", "heat", "dome"}  # no symptom
    chances = [cause.probability for cause in causes]
    assert chances == sorted(chances, reverse=True)
    for cause in causes:
        node = it.compiled.node_of(cause.id)
        odds = now[node] / (1 - now[node]) * (1 - start[node]) / start[node]
        assert cause.probability == pytest.approx(now[node])
        assert cause.prior == pytest.approx(start[node])
        assert cause.decibans == pytest.approx(10 * math.log10(odds))
        part, name = it.shop.faults[cause.id].part, it.shop.faults[cause.id].name
        assert (cause.part, cause.name) == (part, name)


def test_what_leads_was_raised_weighs_something_and_is_not_past(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open", "belly": "1.9 mm", "story": "hot"})
    before = bench(it.shop, {})
    causes = rank(it.shop, it.compiled, it.reasoner.beliefs, before.reasoner.beliefs)
    lead = {cause.id: cause.lead for cause in causes}
    raised = {cause.id: cause.probability - cause.prior for cause in causes}
    assert raised["heat"] > 0.3
    assert lead["heat"] == 0.0  # an event
    assert raised["dome"] > 0.01
    assert lead["dome"] == 0.0  # harmless
    lifting = next(cause for cause in causes if cause.id == "lifting")  # serious, months: weight 1
    bits = lifting.decibans / (10 * math.log10(2))
    assert lead["lifting"] == pytest.approx(lifting.probability * bits)
    lowered = bench(it.shop, {"lamp": "shut"})
    causes = rank(it.shop, it.compiled, lowered.reasoner.beliefs, before.reasoner.beliefs)
    assert {cause.id: cause.lead for cause in causes}["lifting"] == 0.0


def test_what_the_instrument_cannot_have_is_not_ranked(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {}, bridge="floating")
    causes = rank(it.shop, it.compiled, it.reasoner.beliefs, it.reasoner.beliefs)
    assert "lifting" not in {cause.id for cause in causes}


def test_after_work_a_fault_is_ranked_as_it_is_now(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open"}, {}, work=("reglue",))
    before = bench(it.shop, {}, {}, work=("reglue",))
    beliefs = it.reasoner.beliefs
    causes = rank(it.shop, it.compiled, beliefs, before.reasoner.beliefs)
    lifting = next(cause for cause in causes if cause.id == "lifting")
    old = beliefs.probability[it.compiled.node_of("lifting", 0)]
    assert lifting.probability == pytest.approx(0.1 * float(old))


# --- gains -------------------------------------------------------------------------------------


def test_gains_weigh_the_information_on_each_fault(read_checklist: Read, situation: Stand) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open"})
    visit = "setup: {strings: slack}\nreadings: [{check: lamp, value: open}]\n"
    found = candidates(situation(it.shop, visit, bridge="pin"))
    assert {candidate.tells for candidate in found} == {"story", "belly"}
    predictions = it.reasoner.predict(findings_of(it.compiled, found))
    tables = reported_by_check(it.shop, {"bridge": "pin"}, it.shop.checks)
    told = gains(it.shop, it.compiled, predictions, tables)
    sharp = gains(it.shop, it.compiled, predictions, {})
    weights = {"lifting": 1.0, "hump": 1.0, "heat": 0.7 * 0.25, "dome": 0.0}
    for gain in told.values():
        assert gain.bits == pytest.approx(sum(weights[f] * b for f, b in gain.about.items()))
        assert "gap" not in gain.about
    assert 0.0 < told["belly"].bits < sharp["belly"].bits  # the gauge costs something
    assert told["story"] == sharp["story"]


def test_a_check_that_has_spoken_for_sure_of_its_only_fault_tells_nothing_more(
    read_checklist: Read,
) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open"})
    finding = it.compiled.finding_of("story", 0)
    assert finding is not None
    known = Evidence(it.evidence.soft, dict.fromkeys(range(len(it.compiled.network)), False))
    prediction = Reasoner(it.compiled.network, known).predict([finding])
    assert gains(it.shop, it.compiled, prediction, {}) == {"story": Gain("story", 0.0, {})}


# --- what checks show --------------------------------------------------------------------------


def test_a_check_shows_faults_directly_and_through_a_symptom(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {})
    assert shown(it.shop, it.compiled) == {
        "lamp": {"lifting"},
        "story": {"heat"},
        "belly": {"hump", "dome", "heat"},
    }


def test_a_check_shows_only_what_the_instrument_can_have(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {}, bridge="floating")
    assert shown(it.shop, it.compiled)["lamp"] == frozenset()


@pytest.mark.parametrize(
    ("answers", "seen", "top"),
    [
        ({}, set(), set()),
        ({"lamp": "shut"}, {"lifting"}, set()),
        ({"lamp": "slight"}, {"lifting"}, set()),
        ({"lamp": "open"}, {"lifting"}, {"lifting"}),
        ({"belly": "0 mm"}, {"hump", "dome", "heat"}, set()),
        ({"belly": "1.9 mm"}, {"hump", "dome", "heat"}, set()),
        # the outermost level of a side speaks for the faults of that side
        ({"belly": "4.5 mm"}, {"hump", "dome", "heat"}, {"hump", "dome"}),
        ({"belly": "-3 mm"}, {"hump", "dome", "heat"}, {"heat"}),
    ],
)
def test_what_was_looked_at_and_what_is_at_its_top(
    read_checklist: Read, answers: dict[str, str], seen: set[str], top: set[str]
) -> None:
    it = bench(read_checklist(SHOP), answers)
    assert looked_at(it.shop, it.compiled, it.said) == seen
    assert at_the_top(it.shop, it.compiled, it.said) == top


def test_an_earlier_look_stands_until_work_touches_the_fault(read_checklist: Read) -> None:
    shop = read_checklist(SHOP)
    arrival = {"lamp": "open", "belly": "4.5 mm"}
    untouched = bench(shop, arrival, {})
    assert looked_at(shop, untouched.compiled, untouched.said) >= {"lifting", "hump"}
    assert at_the_top(shop, untouched.compiled, untouched.said) >= {"lifting", "hump"}
    mended = bench(shop, arrival, {}, work=("reglue",))
    assert "lifting" not in looked_at(shop, mended.compiled, mended.said)
    assert "lifting" not in at_the_top(shop, mended.compiled, mended.said)
    assert "hump" in looked_at(shop, mended.compiled, mended.said)


# --- reasons -----------------------------------------------------------------------------------


def decibans_of(a: float, b: float) -> float:
    return 10 * math.log10(a / (1 - a) * (1 - b) / b)


def test_a_reading_weighs_what_the_odds_lose_without_it(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open", "belly": "0 mm", "story": "hot"})
    reasoner = it.reasoner
    why = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), {})
    everything = it.enumerated()
    for fault, found in why.items():
        node = it.compiled.node_of(fault)
        wanted = {}
        for k in it.evidence.soft:
            weight = decibans_of(everything[node], it.enumerated(without=k)[node])
            if abs(weight) >= 0.1:
                wanted[it.compiled.findings[k].check] = weight
        given = {w.check: w.decibans for w in (*found.in_favour, *found.against)}
        assert given == pytest.approx(wanted, abs=1e-6)
        assert all(w.decibans > 0 for w in found.in_favour)
        assert all(w.decibans < 0 for w in found.against)
        sizes = [abs(w.decibans) for w in found.in_favour]
        assert sizes == sorted(sizes, reverse=True)
        sizes = [abs(w.decibans) for w in found.against]
        assert sizes == sorted(sizes, reverse=True)


def test_the_readings_for_and_against_a_lift(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "open", "belly": "0 mm"})
    reasoner = it.reasoner
    lift = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), {})["lifting"]
    assert [w.check for w in lift.in_favour] == ["lamp"]
    assert [w.check for w in lift.against] == ["belly"]


@pytest.mark.parametrize(
    ("answers", "trail"),
    [
        ({"lamp": "open", "belly": "1.9 mm", "story": "hot"}, ("hump", "heat")),
        ({"lamp": "open", "belly": "-3 mm", "story": "none"}, ()),
    ],
)
def test_the_trail_follows_causes_that_are_probably_there(
    read_checklist: Read, answers: dict[str, str], trail: tuple[str, ...]
) -> None:
    it = bench(read_checklist(SHOP), answers)
    reasoner = it.reasoner
    why = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), {})
    assert why["lifting"].trail == trail
    present = {f for f in it.shop.faults if it.enumerated()[it.compiled.node_of(f)] >= 0.5}
    assert set(why["lifting"].trail) <= present


def test_after_a_repair_the_trail_passes_over_the_fault_as_it_was(read_checklist: Read) -> None:
    answers = {"lamp": "open", "belly": "4.5 mm", "story": "hot"}
    it = bench(read_checklist(SHOP), answers, {"lamp": "open"}, work=("reglue",))
    reasoner = it.reasoner
    why = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), {})
    assert why["lifting"].trail == ("hump", "heat")
    visits = {w.visit for w in (*why["lifting"].in_favour, *why["lifting"].against)}
    assert visits == {0, 1}


def test_what_would_settle_a_fault_is_told_with_its_reasons(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {})
    reasoner = it.reasoner
    ways = {"hump": Settling("belly", "now"), "heat": Settling("story", "asked")}
    why = reasons(it.shop, it.compiled, reasoner.beliefs, reasoner.leave_one_out(), ways)
    assert {fault: found.settles for fault, found in why.items()} == {
        "lifting": None,
        **ways,
        "dome": None,
    }
    assert why["lifting"].in_favour == ()
