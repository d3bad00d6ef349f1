"""Instruments drawn from the network, against every state of a small network written out."""

from __future__ import annotations

from collections import Counter
from itertools import product
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from advice.shop import SHOP
from builders import BENCH
from demos import shipped
from oracles.enumeration import enumerate_all, outcomes_of
from tailblock.inspection.answers import DerivedCheck, NoSuchCheck, WrongSetup
from tailblock.inspection.derive import derived
from tailblock.inspection.groups import Measured
from tailblock.inspection.likelihood import shares
from tailblock.inspection.record import Instrument, Visit
from tailblock.knowledge.levels import levels_of
from tailblock.knowledge.loader import load
from tailblock.measures.uncertainty import gauge_uncertainty
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.practice.days import DAY, NOWHERE
from tailblock.practice.simulated import (
    FaultDoesNotApply,
    Hidden,
    draw_instrument,
    draw_instruments,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tailblock.inspection.derive import Means
    from tailblock.knowledge.checklist import Checklist

TRAITS = {"bridge": "pin"}
DRAWS = 2_000
SETUP = {"strings": "at-pitch"}


@pytest.fixture
def shop(checklist: Callable[..., Checklist]) -> Checklist:
    return checklist({"checklist.yaml": SHOP_HEAD, "all.yaml": SHOP_REST}, "shop")


SHOP_HEAD = "tailblock: 1\nid: shop\ntitle: Shop\nversion: 1.0.0\n" + SHOP.split("faults:")[0]
SHOP_REST = "faults:" + SHOP.split("faults:", maxsplit=1)[1]


def chi_square(seen: Counter[tuple[str, ...]], expected: dict[tuple[str, ...], float]) -> float:
    """Return the p-value; classes expected fewer than five times are one class."""
    total = sum(seen.values())
    assert set(seen) <= {key for key, chance in expected.items() if chance > 0.0}
    frequent = [key for key, chance in expected.items() if chance * total >= 5.0]
    rest = 1.0 - sum(expected[key] for key in frequent)
    observed = [seen[key] for key in frequent]
    hoped = [total * expected[key] for key in frequent]
    if rest * total > 1e-6:
        observed.append(total - sum(observed))
        hoped.append(rest * total)
    return float(stats.chisquare(observed, hoped).pvalue)


def said(
    shop: Checklist, checks: Sequence[str], having: Sequence[str]
) -> dict[tuple[str, ...], float]:
    """Return the chance of every set of levels of some checks, summed over all states."""
    compiled = compile_network(shop, TRAITS, [VisitSkeleton("arrival", DAY)])
    there = {compiled.node_of(fault): True for fault in having}
    truth = enumerate_all(compiled.network, Evidence({}, there))
    chances = [
        outcomes_of(compiled.network.findings[compiled.index[check, 0]], truth.states)
        for check in checks
    ]
    levels = [levels_of(shop.checks[check]).ids for check in checks]
    return {
        combination: float(
            truth.weight
            @ np.prod(
                [
                    c[:, ids.index(level)]
                    for c, ids, level in zip(chances, levels, combination, strict=True)
                ],
                axis=0,
            )
            / truth.evidence
        )
        for combination in product(*levels)
    }


@pytest.mark.parametrize("having", [(), ("lifting",), ("hump", "heat")])
def test_the_answers_to_several_checks_together_are_distributed_as_the_network_says(
    shop: Checklist, having: tuple[str, ...]
) -> None:
    checks = ("lamp", "story", "belly")
    drawn = draw_instruments(shop, TRAITS, range(DRAWS), having)
    seen = Counter(tuple(hidden.levels[check] for check in checks) for hidden in drawn)
    assert chi_square(seen, said(shop, checks, having)) > 0.001


def test_the_faults_and_symptoms_are_one_draw_from_their_joint_distribution(
    shop: Checklist,
) -> None:
    compiled = compile_network(shop, TRAITS, [VisitSkeleton("arrival", DAY)])
    truth = enumerate_all(compiled.network, Evidence())
    names = [node.id for node in compiled.nodes]
    expected = {
        tuple(name for name, there in zip(names, state, strict=True) if there): float(weight)
        for state, weight in zip(truth.states, truth.weight, strict=True)
    }
    seen = Counter(
        tuple(name for name in names if name in hidden.faults | hidden.symptoms)
        for hidden in draw_instruments(shop, TRAITS, range(DRAWS))
    )
    assert chi_square(seen, expected) > 0.001


def test_what_it_must_have_it_has_and_the_rest_is_drawn(shop: Checklist) -> None:
    drawn = list(draw_instruments(shop, TRAITS, range(200), ("lifting",)))
    assert all("lifting" in hidden.faults for hidden in drawn)
    assert 0 < sum("hump" in hidden.faults for hidden in drawn) < 200
    assert 0 < sum("gap" in hidden.symptoms for hidden in drawn) < 200


@given(seed=st.integers(0, 2**32))
def test_the_same_question_gets_the_same_answer_in_any_order(seed: int, small: Checklist) -> None:
    one, other = (draw_instrument(small, TRAITS, seed) for _ in range(2))
    forward = [one.answer(check, SETUP) for check in ("lamp", "belly", "story")]
    backward = [other.answer(check, SETUP) for check in ("story", "belly", "lamp")]
    assert forward == backward[::-1]
    assert one == other


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    folder = tmp_path_factory.mktemp("practice") / "shop"
    folder.mkdir()
    (folder / "checklist.yaml").write_text(SHOP_HEAD + SHOP_REST, encoding="utf-8")
    loaded = load(folder).checklist
    assert loaded is not None
    return loaded


def test_a_true_value_lies_within_the_level_that_was_drawn(shop: Checklist) -> None:
    for hidden in draw_instruments(shop, TRAITS, range(300)):
        fits = shares(shop, TRAITS, shop.checks["belly"], hidden.values["belly"], 0.0)
        assert levels_of(shop.checks["belly"]).ids[int(np.argmax(fits))] == hidden.levels["belly"]


def test_readings_with_a_gauge_spread_about_the_true_value_by_its_standard_uncertainty(
    shop: Checklist,
) -> None:
    # belly: resolution 0.5 mm, repeatability 0.4 mm. The step's own error is uniform and
    # not independent of the hand's; a spread of most of a step hides that (JCGM 100, F.2.2.1).
    errors = []
    for hidden in draw_instruments(shop, TRAITS, range(100)):
        for times in range(20):
            value = hidden.answer("belly", SETUP, times).value
            assert value is not None
            assert value == pytest.approx(round(value / 0.5) * 0.5)
            errors.append(value - hidden.values["belly"])
    assert np.mean(errors) == pytest.approx(0.0, abs=4 * 0.42 / np.sqrt(2000))
    assert np.std(errors) == pytest.approx(gauge_uncertainty(0.5, 0.4), rel=0.05)


def test_another_reading_with_a_gauge_has_its_own_error_and_a_look_has_none(
    shop: Checklist,
) -> None:
    hidden = draw_instrument(shop, TRAITS, 4)
    assert len({hidden.answer("belly", SETUP, times).value for times in range(20)}) > 1
    assert len({hidden.answer("lamp", SETUP, times).level for times in range(20)}) == 1


def test_a_fault_that_these_traits_rule_out_cannot_be_asked_for(shop: Checklist) -> None:
    with pytest.raises(FaultDoesNotApply, match=r"lifting does not apply: bridge is floating"):
        draw_instrument(shop, {"bridge": "floating"}, 0, ("lifting",))


@pytest.fixture
def bench(checklist: Callable[..., Checklist]) -> Checklist:
    return checklist(BENCH, "bench")


STEEL = {"bridge": "pin", "strings": "steel"}


@pytest.fixture
def instrument(bench: Checklist) -> Hidden:
    return draw_instrument(bench, STEEL, 1)


def test_only_what_can_be_asked_is_answered_and_only_in_a_setup_that_allows_it(
    instrument: Hidden,
) -> None:
    pitch = {"strings": "at-pitch", "bridge": "on"}
    with pytest.raises(NoSuchCheck):
        instrument.answer("feler", pitch)
    with pytest.raises(DerivedCheck):
        instrument.answer("aim", pitch)
    with pytest.raises(WrongSetup):
        instrument.answer("feeler", pitch)
    assert instrument.answer("feeler", pitch | {"strings": "slack"}).value is not None


def test_derived_values_come_out_as_often_at_each_level_as_the_network_says(
    bench: Checklist,
) -> None:
    compiled = compile_network(bench, STEEL, [VisitSkeleton("arrival", DAY)])
    truth = enumerate_all(compiled.network, Evidence())
    finding = compiled.network.findings[compiled.index["aim", 0]]
    ids = levels_of(bench.checks["aim"]).ids
    chances = truth.weight @ outcomes_of(finding, truth.states)
    expected: dict[tuple[str, ...], float] = {
        (level,): float(chance) for level, chance in zip(ids, chances, strict=True)
    }
    seen: Counter[tuple[str, ...]] = Counter()
    visit = Visit("arrival", DAY, NOWHERE)
    for hidden in draw_instruments(bench, STEEL, range(500)):
        means: Means = {name: (Measured(v, 0.0, (), {}),) for name, v in hidden.values.items()}
        value = derived(bench, Instrument("i", STEEL), visit, means)["aim"].value
        fits = shares(bench, STEEL, bench.checks["aim"], value, 0.0)
        seen[ids[int(np.argmax(fits))],] += 1
    assert chi_square(seen, expected) > 0.001


def test_all_derived_values_of_a_shipped_instrument_come_out_at_the_levels_that_were_drawn() -> (
    None
):
    flat_top = shipped("flat-top")
    traits = {"strings": "steel", "bridge": "pin"}
    made = [check for check in flat_top.checks.values() if check.derived]
    visit = Visit("arrival", DAY, NOWHERE)
    compared = 0
    for hidden in draw_instruments(flat_top, traits, range(8)):
        means: Means = {name: (Measured(v, 0.0, (), {}),) for name, v in hidden.values.items()}
        values = derived(flat_top, Instrument("i", traits), visit, means)
        for check in made:
            if check.id in values:
                fits = shares(flat_top, traits, check, values[check.id].value, 0.0)
                assert levels_of(check).ids[int(np.argmax(fits))] == hidden.levels[check.id]
                compared += 1
    assert compared > 40
