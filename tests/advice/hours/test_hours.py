"""The hours of a plan against brute force: every state of every fault, one by one."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advice.shop import bench
from oracles.enumeration import enumerate_all
from tailblock.advice.hours import Jobs, Piece, Unread, hours_of, promise_of
from tailblock.advice.hours.called import rules_of
from tailblock.advice.hours.chances import holds
from tailblock.advice.weighing import Weigher
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.speaks import Spoken
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from advice.shop import Bench
    from tailblock.advice.hours import WorkHours
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.arrays import FloatArray

# A lifting bridge: under it the top may be torn, and a torn top may have a loose patch.
# To reglue the bridge it must be taken off, which is work of its own.
SHOP = """
parts: [{id: bridge, name: Bridge}, {id: top, name: Top}]
faults:
  - {id: heat, part: top, name: Heat, plain: H., kind: event, alone: 0.2, harm: serious,
     pace: stable, under_tension: fine}
  - {id: lifting, part: bridge, name: Lifting, plain: L., alone: 0.3, harm: serious, pace: months,
     under_tension: danger, caused_by: [{fault: heat, strength: 0.6}]}
  - {id: torn, part: top, name: Torn, plain: T., alone: 0.05, harm: serious, pace: years,
     under_tension: fine, caused_by: [{fault: lifting, strength: 0.3}]}
  - {id: patch, part: top, name: Patch, plain: P., alone: 0.1, harm: serious, pace: years,
     under_tension: fine, caused_by: [{fault: torn, strength: 0.8}]}
  - {id: brace, part: top, name: Brace, plain: B., alone: 0.2, harm: serious, pace: months,
     under_tension: watch, caused_by: [{fault: heat, strength: 0.8}]}
checks:
  - {id: lamp, part: bridge, title: Lamp, ask: A?, how: Look., minutes: 2,
     choices: [{level: shut, text: N}, {level: open, text: Y}],
     shows: [{fault: lifting, at_least: {open: 0.8}}, {fault: torn, at_least: {open: 0.3}}]}
  - {id: tap, part: top, title: Tap, ask: A?, how: Tap., minutes: 1,
     choices: [{level: clear, text: N}, {level: dull, text: D}, {level: dead, text: Y}],
     shows: [{fault: brace, at_least: {dull: 0.8, dead: 0.4}},
             {fault: heat, at_least: {dull: 0.1}}]}
  - id: gap
    part: bridge
    title: Gap
    ask: How wide?
    how: Measure.
    minutes: 3
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 9 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.4 mm}
      levels: [{level: shut, up_to: 0.5 mm}, {level: slight, up_to: 2 mm}, {level: wide}]
    shows: [{fault: lifting, at_least: {slight: 0.8, wide: 0.4}}]
remedies:
  - {id: take-off, part: bridge, name: Take off, plain: O, fixes: [{fault: heat, how_well: 0.01}],
     hours: {low: 1, likely: 1, high: 2}, reversible: true, stop_point: true,
     may_reveal: [{fault: torn, chance: 0.3}]}
  - {id: reglue, part: bridge, name: Reglue, plain: R, fixes: [{fault: lifting, how_well: 0.9}],
     needs: {remedies: [take-off]}, hours: {low: 2, likely: 3, high: 7}, reversible: true}
  - {id: mend, part: top, name: Mend, plain: M, fixes: [{fault: torn, how_well: 0.9}],
     hours: {low: 1, likely: 2, high: 6}, reversible: false,
     may_reveal: [{fault: patch, chance: 0.3}, {fault: heat, chance: 0.3}]}
  - {id: mend-again, part: top, name: Mend twice, plain: M, hours: {low: 9, likely: 9, high: 9},
     fixes: [{fault: torn, how_well: 0.9}], reversible: false}
  - {id: patch-reglue, part: top, name: Patch, plain: P, fixes: [{fault: patch, how_well: 0.9}],
     hours: {low: 0.5, likely: 1, high: 2}, reversible: true}
  - {id: brace-reglue, part: top, name: Brace, plain: B, fixes: [{fault: brace, how_well: 0.9}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true}
"""
HOURS: Mapping[str, tuple[float, float, float]] = {
    "take-off": (1, 1, 2), "reglue": (2, 3, 7), "mend": (1, 2, 6), "patch-reglue": (0.5, 1, 2),
    "brace-reglue": (1, 2, 3),
}  # fmt: skip
REGLUE = (Piece("reglue", ("lifting",)),)
BOTH = (*REGLUE, Piece("brace-reglue", ("brace",)))
# Work by hand for the plans above, as a person reads the checklist: faults there -> work done.


def done_by_hand(plan: tuple[Piece, ...], there: set[str]) -> set[str]:
    work = set()
    for piece in plan:
        if piece.always or there & set(piece.serves):
            work.add(piece.remedy)
    if "reglue" in work:
        work.add("take-off")
    if "take-off" in work and "torn" in there:
        work.add("mend")
        if "patch" in there:
            work.add("patch-reglue")
    return work


PLANS = {
    "one": REGLUE,
    "two": BOTH,
    "opened in any case": (Piece("take-off", (), always=True), *REGLUE),
    "always": (Piece("reglue", ("lifting",), always=True), BOTH[1]),
    "either": (Piece("brace-reglue", ("brace", "lifting")), Piece("take-off", (), always=True)),
}
READ = {"none": {}, "dull": {"tap": "dull"}, "open": {"lamp": "open", "tap": "clear"}}


@pytest.fixture(scope="module")
def shop(read_checklist: Callable[[str], Checklist]) -> Checklist:
    return read_checklist(SHOP)


def found(of: Bench, plan: Iterable[Piece], **words: object) -> WorkHours:
    jobs = Jobs(of.compiled, of.reasoner)
    return hours_of(plan, of.shop, {}, jobs, **words)  # type: ignore[arg-type]


class ByHand:
    """Every state of the faults with its probability and the work that it needs."""

    def __init__(self, of: Bench, plan: tuple[Piece, ...], evidence: Evidence | None = None):
        full = enumerate_all(of.compiled.network, evidence or of.evidence)
        self.chance: FloatArray = full.weight / full.weight.sum()
        names = [name.id for name in of.compiled.nodes]
        self.there = [
            {name for name, on in zip(names, row, strict=True) if on} for row in full.states
        ]
        self.work = [done_by_hand(plan, there) for there in self.there]
        # the mean of a PERT beta: (low + 4 likely + high) / 6
        self.means = {r: (a + 4 * m + b) / 6 for r, (a, m, b) in HOURS.items()}
        self.expected = np.array([sum(self.means[r] for r in work) for work in self.work])

    @property
    def mean(self) -> float:
        return float(self.chance @ self.expected)

    @property
    def variance(self) -> float:
        # the variance of a beta distribution on [a, b] with shapes p and q
        def of_length(a: float, m: float, b: float) -> float:
            p, q = 1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a)
            return (b - a) ** 2 * p * q / ((p + q) ** 2 * (p + q + 1))

        lengths = np.array([sum(of_length(*HOURS[r]) for r in work) for work in self.work])
        return float(self.chance @ (lengths + self.expected**2)) - self.mean**2


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("read", READ)
def test_mean_spread_and_chances_are_those_of_enumeration(
    shop: Checklist, plan: str, read: str
) -> None:
    of = bench(shop, READ[read])
    hand, ours = ByHand(of, PLANS[plan]), found(of, PLANS[plan])
    assert ours.mean == pytest.approx(hand.mean, rel=1e-9)
    assert ours.sd == pytest.approx(sqrt(hand.variance), rel=1e-9)
    for piece in ours.pieces:
        chance = sum(
            float(p) for p, work in zip(hand.chance, hand.work, strict=True) if piece.remedy in work
        )
        assert piece.chance == pytest.approx(chance, abs=1e-9)
        assert piece.mean == pytest.approx(hand.means[piece.remedy])
    assert {piece.remedy for piece in ours.pieces} == set().union(*hand.work)


@pytest.mark.parametrize("plan", PLANS)
def test_the_shares_of_the_spread_add_up(shop: Checklist, plan: str) -> None:
    ours = found(bench(shop, {"tap": "dull"}), PLANS[plan])
    assert sum(entry.share for entry in ours.contributors) == pytest.approx(1.0)
    shares = [entry.share for entry in ours.contributors]
    assert shares == sorted(shares, reverse=True)


def test_simulated_quantiles_agree_with_brute_force_within_their_error(shop: Checklist) -> None:
    of = bench(shop, {"tap": "dull"})
    ours = found(of, BOTH)
    # an independent simulation: states drawn from the enumeration, work by hand, numpy's own beta
    hand, dice = ByHand(of, BOTH), np.random.default_rng(7)
    drawn = []
    for state in dice.choice(len(hand.chance), 40_000, p=hand.chance):
        total = 0.0
        for remedy in sorted(hand.work[state]):
            a, m, b = HOURS[remedy]
            shapes = 1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a)
            total += a + (b - a) * dice.beta(*shapes)
        drawn.append(total)
    for one in ours.quantiles:
        assert 0 < one.error < 0.1
        theirs = float(np.quantile(drawn, one.share))
        assert one.hours == pytest.approx(theirs, abs=4 * sqrt(1.5) * one.error)
    assert sum(ours.counts) == ours.drawn
    assert len(ours.edges) == len(ours.counts) + 1


def test_the_same_plan_has_the_same_answer_every_time(shop: Checklist) -> None:
    of = bench(shop, {"tap": "dull"})
    assert found(of, BOTH) == found(of, BOTH)


@pytest.mark.parametrize("plan", PLANS)
def test_a_promise_says_what_the_whole_says(shop: Checklist, plan: str) -> None:
    of = bench(shop, {"tap": "dull"})
    jobs = Jobs(of.compiled, of.reasoner)
    whole = hours_of(PLANS[plan], shop, {}, jobs)
    promise = promise_of(PLANS[plan], shop, {}, jobs)
    assert promise.quantiles == whole.quantiles
    assert [piece.remedy for piece in promise.pieces] == [piece.remedy for piece in whole.pieces]
    for ours, theirs in zip(promise.pieces, whole.pieces, strict=True):
        assert ours.chance == pytest.approx(theirs.chance, abs=1e-12)


def test_faults_are_joint_and_not_independent(shop: Checklist) -> None:
    """Heat brings about both faults: together they spread more than if each came by itself."""
    of = bench(shop, {})
    one, other, both = (found(of, plan) for plan in (BOTH[:1], BOTH[1:], BOTH))
    assert both.mean == pytest.approx(one.mean + other.mean)
    assert both.sd**2 > one.sd**2 + other.sd**2 + 0.1


def _told(of: Bench, plan: tuple[Piece, ...], check: str) -> float:
    """Return the spread that is left once a check is read, from the enumeration alone."""
    now = ByHand(of, plan)
    k = of.compiled.finding_of(check, 0)
    assert k is not None
    outcomes = of.compiled.network.findings[k].outcomes
    between = 0.0
    whole = enumerate_all(of.compiled.network, of.evidence).evidence
    for outcome in range(outcomes):
        row = tuple(float(level == outcome) for level in range(outcomes))
        evidence = Evidence({**of.evidence.soft, k: row})
        chance = enumerate_all(of.compiled.network, evidence).evidence / whole
        between += chance * (ByHand(of, plan, evidence).mean - now.mean) ** 2
    return sqrt(now.variance - between)


@pytest.mark.parametrize("check", ["lamp", "tap"])
def test_what_a_check_leaves_of_the_spread_is_exact(shop: Checklist, check: str) -> None:
    of = bench(shop, {})
    ours = found(of, BOTH, unread=[Unread("lamp", 2.0), Unread("tap", 1.0)])
    (worth,) = (entry for entry in ours.worth if entry.id == check)
    assert (worth.kind, worth.minutes) == ("check", {"lamp": 2.0, "tap": 1.0}[check])
    assert worth.sd_left == pytest.approx(_told(of, BOTH, check), rel=1e-9)


def test_a_blunt_gauge_leaves_more_of_the_spread_than_a_sharp_one(shop: Checklist) -> None:
    of = bench(shop, {})
    blunt = np.array([[0.8, 0.2, 0.0], [0.2, 0.6, 0.2], [0.0, 0.2, 0.8]])
    left = [
        next(
            entry.sd_left
            for entry in found(of, REGLUE, unread=[Unread("gap", 3.0)], reported=table).worth
            if entry.kind == "check"
        )
        for table in ({}, {"gap": np.eye(3)}, {"gap": blunt})
    ]
    assert left[0] == pytest.approx(left[1])
    assert left[0] < left[2] < found(of, REGLUE).sd
    assert left[0] == pytest.approx(_told(of, REGLUE, "gap"))


def test_what_a_stop_point_leaves_of_the_spread_is_exact(shop: Checklist) -> None:
    """Once the bridge is off one sees whether the top is torn; the patch is still out of sight."""
    of = bench(shop, {})
    plan = (Piece("take-off", (), always=True),)
    ours, hand = found(of, plan), ByHand(of, plan)
    (worth,) = ours.worth
    assert (worth.kind, worth.id, worth.minutes) == ("stop-point", "take-off", None)
    between = 0.0
    for torn in (False, True):
        rows = np.array([("torn" in there) == torn for there in hand.there])
        chance = hand.chance[rows].sum()
        between += chance * (hand.chance[rows] @ hand.expected[rows] / chance - hand.mean) ** 2
    assert worth.sd_left == pytest.approx(sqrt(hand.variance - between))


def test_nothing_is_worth_knowing_where_nothing_spreads(shop: Checklist) -> None:
    ours = found(bench(shop, {}), [Piece("mend-again", (), always=True)])
    assert (ours.mean, ours.sd, ours.contributors, ours.worth) == (9.0, 0.0, (), ())
    assert [q.hours for q in ours.quantiles] == [9.0, 9.0, 9.0]
    assert sum(ours.counts) == ours.drawn


def test_a_confirmed_fault_is_there_for_certain(shop: Checklist) -> None:
    of = bench(shop, {})
    lifting = of.compiled.node_of("lifting")
    jobs = Jobs(of.compiled, Weigher(of.compiled.network, Evidence({}, {lifting: True})))
    ours = hours_of(REGLUE, shop, {}, jobs)
    assert next(p.chance for p in ours.pieces if p.remedy == "reglue") == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("plan", "terms"),
    [
        # needed work comes first and when what needs it does; what is revealed is chained
        (
            REGLUE,
            {
                "take-off": {"lifting"},
                "reglue": {"lifting"},
                "mend": {"lifting torn"},
                "patch-reglue": {"lifting patch torn"},
            },
        ),
        # a revealed fault calls the plan's own remedy before the first that is listed
        (
            (Piece("take-off", (), always=True), Piece("mend-again", ("patch",))),
            {"take-off": {""}, "mend-again": {"patch", "torn"}},
        ),
        # what no fault of this instrument calls does not come up
        ((Piece("reglue", ("no-such-fault-here",)),), {}),
    ],
    ids=["chained", "planned first", "not possible"],
)
def test_which_work_is_done_for_which_faults(
    shop: Checklist, plan: tuple[Piece, ...], terms: dict[str, set[str]]
) -> None:
    rules = rules_of(plan, shop, {}, shop.faults)
    written = {
        remedy: {" ".join(sorted(term)) for term in some} for remedy, some in rules.terms.items()
    }
    assert written == terms
    assert list(rules.terms) == list(terms)


def test_an_event_calls_no_work(shop: Checklist) -> None:
    """`mend` may reveal that it was hot once; take-off is listed as easing that, and not called."""
    rules = rules_of([Piece("mend", ("torn",))], shop, {}, shop.faults)
    assert set(rules.terms) == {"mend", "patch-reglue"}


@given(
    st.frozensets(st.frozensets(st.sampled_from("abcde"), max_size=3), max_size=6),
    st.frozensets(st.sampled_from("abcde")),
)
def test_the_signed_sum_of_its_parts_says_whether_a_rule_holds(
    terms: frozenset[frozenset[str]], there: frozenset[str]
) -> None:
    parts = holds(terms)
    signs = [
        sign for part, sign in parts.items() if all((name in there) == on for name, on in part)
    ]
    assert sum(signs) == any(term <= there for term in terms)
    for part in parts:
        assert len(dict(part)) == len(part)


def test_a_measured_value_moves_the_hours(shop: Checklist) -> None:
    of = bench(shop, {})
    k = of.compiled.finding_of("gap", 0)
    assert k is not None
    means = []
    for value in (0.0, 5.0):
        soft = {k: likelihood(shop, {}, Spoken("gap", (0,), value=value, u=0.4))}
        jobs = Jobs(of.compiled, Weigher(of.compiled.network, Evidence(soft)))
        means.append(hours_of(REGLUE, shop, {}, jobs).mean)
    assert means[0] < found(of, REGLUE).mean < means[1]
