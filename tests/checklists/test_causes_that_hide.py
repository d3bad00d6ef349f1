"""Opposing causes hide one another; what they hide must not be spoken against by it.

A neck that has lost its aim raises the strings. Somebody answered that at the saddle, so that the
action is ordinary and hardly any saddle is left; then a strip of wood under the saddle hid that
too. Damp lifts the strings by itself, drought lets them down. In all of these the ordinary reading
is what the fault would give as well. All common practice, no source; the limits of half a deciban
to two are our own choice (1 deciban moves 0.25 to 0.30).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from bench import PLAIN, bench

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

OLD = {**PLAIN, "age": "over-40"}
LOST = "neck-angle-lost"
ORDINARY_ACTION = {"action-12-bass": "2.3 mm"}
ages = pytest.mark.parametrize("traits", [PLAIN, OLD], ids=["ten years", "over forty"])


@ages
@pytest.mark.parametrize("left", ["0.4 mm", "0.8 mm", "1.2 mm"])
def test_an_ordinary_action_over_a_saddle_cut_down(
    traits: dict[str, str], left: str, flat_top: Checklist
) -> None:
    said = bench(flat_top, traits, {**ORDINARY_ACTION, "saddle-exposure": left})
    assert abs(said.weight_of("action-12-bass", LOST)) < 2.0
    assert said.chance(LOST) > 1.2 * said.start(LOST)


@ages
def test_over_a_good_saddle_the_same_action_does_speak_against_it(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    said = bench(flat_top, traits, {**ORDINARY_ACTION, "saddle-exposure": "3.2 mm"})
    assert said.weight_of("action-12-bass", LOST) < -3.0
    assert said.chance(LOST) < 0.5 * said.start(LOST)


@ages
def test_a_shim_under_the_saddle_makes_an_ordinary_saddle_say_little(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    ordinary = {**ORDINARY_ACTION, "saddle-exposure": "3.0 mm"}
    bare = bench(flat_top, traits, {**ordinary, "saddle-foot": "slot"})
    shimmed = bench(flat_top, traits, {**ordinary, "saddle-foot": "stack"})
    assert shimmed.chance("saddle-shimmed") > 0.5
    assert shimmed.weight(LOST) > -0.5
    assert bare.weight(LOST) < -5.0


@ages
def test_in_damp_air_an_ordinary_action_says_nothing(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    # swelling lifts the strings of a good neck, and has been answered at the saddle of a bad one
    damp = {"rh-case": "72 %", "climate-story": "extreme"}
    said = bench(flat_top, traits, {**damp, **ORDINARY_ACTION, "saddle-exposure": "0.6 mm"})
    assert "action-12-bass" not in said.findings  # the air keeps it from speaking
    assert said.chance("climate-wet") > 0.4
    assert said.chance(LOST) > 1.2 * said.start(LOST)


@ages
def test_swelling_that_explains_a_high_action_does_not_clear_the_neck(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    swollen = {"rh-case": "72 %", "back-arch": "8 mm", "belly-across": "2.6 mm"}
    high = {"action-12-bass": "3.6 mm", "projection": "-1.8 mm"}
    said = bench(flat_top, traits, {**swollen, **high})
    assert said.chance("climate-wet") > 0.6
    assert said.weight(LOST) > -1.0


@ages
def test_drought_that_lets_the_strings_down_does_not_clear_the_neck(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    said = bench(flat_top, traits, {"rh-case": "28 %", **ORDINARY_ACTION})
    assert said.chance("climate-dry") > 0.5
    assert said.weight(LOST) > -1.5


@ages
def test_the_straightedge_sees_through_all_of_it(
    traits: dict[str, str], flat_top: Checklist
) -> None:
    hidden = {**ORDINARY_ACTION, "saddle-exposure": "3.0 mm", "saddle-foot": "stack"}
    assert bench(flat_top, traits, {**hidden, "projection": "-2.8 mm"}).chance(LOST) > 0.6
    assert bench(flat_top, traits, {**hidden, "projection": "0.6 mm"}).chance(LOST) < 0.2
