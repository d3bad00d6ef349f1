"""How surprising readings are, one by one and all together."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

import numpy as np
import pytest

from advice.shop import SHOP, Bench, bench
from oracles.enumeration import enumerate_all, outcomes_of
from tailblock.advice import surprise
from tailblock.advice.gauge import reported_by_check
from tailblock.knowledge.entries import Scales
from tailblock.network.arrays import Evidence, FloatArray

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], "Checklist"]

STRANGE = """
parts: [{id: top, name: Top}]
faults:
  - {id: hump, part: top, name: Hump, plain: It rises., alone: 0.01, harm: serious, pace: months,
     under_tension: watch}
checks:
  - {id: look, part: top, title: Look, ask: A?, how: Look., minutes: 1,
     choices: [{level: flat, text: N}, {level: high, text: Y}],
     shows: [{fault: hump, at_least: {high: 0.98}}], otherwise: {high: 0.001}}
  - {id: feel, part: top, title: Feel, ask: A?, how: Feel., minutes: 1,
     choices: [{level: flat, text: N}, {level: high, text: Y}],
     shows: [{fault: hump, at_least: {high: 0.98}}], otherwise: {high: 0.001}}
"""


@pytest.mark.parametrize(
    "answers",
    [
        {"lamp": "open", "belly": "4.5 mm", "story": "hot"},
        {"lamp": "shut", "belly": "1.9 mm"},  # a value near no limit, and one in two levels
        {"story": "none"},
    ],
)
def test_a_surprise_is_what_the_reading_costs_given_all_others(
    read_checklist: Read, answers: dict[str, str]
) -> None:
    it = bench(read_checklist(SHOP), answers)
    found = surprise.surprises(it.compiled, it.reasoner, it.shop.limits)
    assert {one.check for one in found} == set(answers)
    for one in found:
        k = it.compiled.index[one.check, one.visit]
        rest = Evidence({j: row for j, row in it.evidence.soft.items() if j != k})
        others = enumerate_all(it.compiled.network, rest)
        level = outcomes_of(it.compiled.network.findings[k], others.states)
        predicted = others.weight @ level / others.evidence
        # the expectation of the likelihood under what the others predict
        expected = float(predicted @ np.array(it.evidence.soft[k]))
        assert one.bits == pytest.approx(-math.log2(expected), abs=1e-9)
    bits = [one.bits for one in found]
    assert bits == sorted(bits, reverse=True)


def test_a_contradicted_reading_is_named(read_checklist: Read) -> None:
    # by hand: P(look high) = 0.01 x 0.98002 + 0.99 x 0.001 = 0.0107902, and P(feel flat | look
    # high) = (0.0098002 x 0.01998 + 0.00099 x 0.999) / 0.0107902 = 0.109805: 3.19 bits; but
    # P(look high | feel flat) = 0.0011848 / 0.9892098 = 0.0011977: 9.71 bits
    it = bench(read_checklist(STRANGE), {"look": "high", "feel": "flat"})
    first, second = surprise.surprises(it.compiled, it.reasoner, it.shop.limits)
    assert (first.check, first.named) == ("look", True)
    assert first.bits == pytest.approx(9.71, abs=0.005)
    assert (second.check, second.named) == ("feel", False)
    assert second.bits == pytest.approx(3.19, abs=0.005)


def test_the_limit_of_the_checklist_decides_what_is_named(read_checklist: Read) -> None:
    it = bench(read_checklist(STRANGE), {"look": "high", "feel": "flat"})
    strict = surprise.surprises(it.compiled, it.reasoner, Scales(surprise_bits=3.0))
    assert [one.named for one in strict] == [True, True]
    mild = surprise.surprises(it.compiled, it.reasoner, Scales(surprise_bits=10.0))
    assert [one.named for one in mild] == [False, False]


def gauges(it: Bench) -> Mapping[str, FloatArray]:
    return reported_by_check(it.shop, {"bridge": "pin"}, it.shop.checks)


def placed(it: Bench) -> surprise.Whole | None:
    return surprise.whole(it.compiled, it.reasoner, gauges(it), it.shop.limits)


def exact_share(it: Bench) -> float:
    """Return the chance of reporting readings no likelier than these, by enumeration."""
    network = it.compiled.network
    asked = list(it.evidence.soft)
    truth = enumerate_all(network, Evidence())
    joint = truth.weight
    tables = [outcomes_of(network.findings[k], truth.states) for k in asked]
    shape = [network.findings[k].outcomes for k in asked]
    chance = {
        said: float(
            (joint * np.prod([t[:, o] for t, o in zip(tables, said, strict=True)], axis=0)).sum()
        )
        for said in np.ndindex(*shape)
    }
    ours = chance[tuple(int(np.argmax(it.evidence.soft[k])) for k in asked)]
    mixed = [
        gauges(it).get(it.compiled.findings[k].check, np.eye(network.findings[k].outcomes))
        for k in asked
    ]
    no_likelier = [said for said, p in chance.items() if p <= ours * (1 + 1e-9)]
    return sum(
        p * math.prod(float(k[t, r]) for k, t, r in zip(mixed, true, said, strict=True))
        for said in no_likelier
        for true, p in chance.items()
    )


@pytest.mark.parametrize(
    "answers",
    [
        {"lamp": "open", "belly": "4.5 mm", "story": "hot"},
        {"lamp": "shut", "belly": "0 mm", "story": "none"},
        {"lamp": "slight", "belly": "-3 mm", "story": "none"},
        {"lamp": "open", "belly": "-3 mm", "story": "none"},
    ],
)
def test_the_share_is_that_of_all_possible_readings(
    read_checklist: Read, answers: dict[str, str]
) -> None:
    it = bench(read_checklist(SHOP), answers)
    found = placed(it)
    assert found is not None
    truth = exact_share(it)
    # five standard errors of a share of that many
    assert (
        abs(found.share - truth)
        <= 5 * math.sqrt(max(truth * (1 - truth), 0.0) / found.sampled) + 1e-12
    )


def test_what_the_checklist_does_not_know_is_outside(read_checklist: Read) -> None:
    it = bench(read_checklist(STRANGE), {"look": "high", "feel": "flat"})
    found = placed(it)
    assert found is not None
    assert found.outside
    assert found.sampled == surprise.SAMPLED
    assert exact_share(it) < 0.01
    usual = bench(read_checklist(STRANGE), {"look": "flat", "feel": "flat"})
    plain = placed(usual)
    assert plain == surprise.Whole(1.0, surprise.FIRST, outside=False)


def test_the_limit_of_the_checklist_decides_what_is_outside(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {"lamp": "slight", "belly": "-3 mm", "story": "none"})
    share = exact_share(it)
    for limit in (share / 2, share * 2):
        limits = Scales(outside=limit)
        found = surprise.whole(it.compiled, it.reasoner, gauges(it), limits)
        assert found is not None
        assert found.outside == (share < limit)


def test_stopping_early_says_the_same_as_all_would_have_said(
    read_checklist: Read, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = read_checklist(SHOP)
    for lamp in ("shut", "slight", "open"):
        for belly in ("-3 mm", "0 mm", "1.9 mm", "4.5 mm"):
            it = bench(shop, {"lamp": lamp, "belly": belly, "story": "hot"})
            early = placed(it)
            monkeypatch.setattr(surprise, "FIRST", surprise.SAMPLED)
            late = placed(it)
            monkeypatch.undo()
            assert early is not None
            assert late is not None
            assert early.outside == late.outside


def test_nothing_read_stands_nowhere(read_checklist: Read) -> None:
    it = bench(read_checklist(SHOP), {})
    assert placed(it) is None
    assert surprise.surprises(it.compiled, it.reasoner, it.shop.limits) == ()


def test_what_is_out_of_reach_is_not_guessed(
    read_checklist: Read, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(surprise, "LIMIT", 4)
    it = bench(read_checklist(SHOP), {"lamp": "open", "belly": "0 mm"})
    assert placed(it) is None
