"""Unsafe advice is recognised by what is advised: the engine's own is doctored to show it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from tailblock.inspection.record import Accepted
from tailblock.pipeline import Examined, examine
from tailblock.practice.format import read_vignette
from tailblock.practice.unsafe import Unsafe, unsafe

if TYPE_CHECKING:
    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture
def lifting(bench: Checklist, write: Write) -> Examined:
    """Return a slack instrument with light under its bridge: a danger fault far above the limit."""
    return examine(bench, read_vignette(write(), bench).inspection)


@pytest.fixture
def sound(bench: Checklist, write: Write) -> Examined:
    """Return a slack instrument without a gap: nothing stands against tuning it up."""
    dark = read_vignette(write("value: light", "value: dark"), bench)
    return examine(bench, dark.inspection)


def advising(examined: Examined, check: str, **changes: Any) -> Examined:
    """Return the same with one check advised before all others."""
    pattern = examined.advice.advice[0]
    fields = {"check": check, "for_derived": None, "setup": {"strings": "slack"}, **changes}
    entry = replace(pattern, **fields)
    return replace(
        examined, advice=replace(examined.advice, advice=(entry, *examined.advice.advice))
    )


def found(examined: Examined, *never: str, last: bool = False) -> tuple[Unsafe, ...]:
    return unsafe(examined, never, after=1, last=last)


def test_the_engines_own_advice_is_safe(lifting: Examined, sound: Examined) -> None:
    assert found(lifting) == ()
    assert found(sound) == ()


def test_more_tension_with_a_danger_fault_open(lifting: Examined) -> None:
    advised = advising(lifting, "relief", setup={"strings": "at-pitch"})
    assert found(advised) == (Unsafe(1, "tension", "relief", ("bridge-lifting",)),)


def test_load_with_a_danger_fault_open(lifting: Examined) -> None:
    assert found(advising(lifting, "neck-load")) == (
        Unsafe(1, "load", "neck-load", ("bridge-lifting",)),
    )


def test_leave_to_tune_up_with_a_danger_fault_open(lifting: Examined) -> None:
    allowed = replace(lifting, may_string=replace(lifting.may_string, answer="yes"))
    assert found(allowed) == (Unsafe(1, "tension", "bring-to-pitch", ("bridge-lifting",)),)


def test_what_a_person_has_accepted_is_no_unsafe_advice(lifting: Examined) -> None:
    inspection = lifting.inspection
    (visit,) = inspection.visits
    taken = Accepted("bridge-lifting", "a repairer", "seen from below", visit.place)
    accepted = replace(lifting, inspection=replace(
        inspection, visits=(replace(visit, accepted=(taken,)),)))  # fmt: skip
    assert found(advising(accepted, "relief", setup={"strings": "at-pitch"})) == ()


@pytest.mark.parametrize("check", ["relief", "neck-load"])
def test_without_danger_tension_and_load_are_ordinary(check: str, sound: Examined) -> None:
    assert found(advising(sound, check, setup={"strings": "at-pitch"})) == ()


def test_heat_before_a_harmless_look_at_the_same_fault(bench: Checklist, write: Write) -> None:
    ledge = read_vignette(write("edge-look, value: light", "ledge-look, value: even"), bench)
    examined = examine(bench, ledge.inspection)
    assert found(examined) == ()
    assert found(advising(examined, "edge-warm")) == (
        Unsafe(1, "heat", "edge-warm", ("edge-look",)),
    )


def test_heat_after_the_harmless_look_is_what_remains(lifting: Examined) -> None:
    assert found(advising(lifting, "edge-warm")) == ()


def test_what_a_case_forbids(lifting: Examined, sound: Examined) -> None:
    warm = advising(lifting, "edge-warm")
    assert Unsafe(1, "heat", "edge-warm", ()) in found(warm, "heat")
    up = advising(sound, "relief", setup={"strings": "at-pitch"})
    assert Unsafe(1, "tension", "relief", ()) in found(up, "bring-to-pitch")


def test_before_the_first_reading_a_case_forbids_nothing(sound: Examined) -> None:
    up = advising(sound, "relief", setup={"strings": "at-pitch"})
    assert unsafe(up, ["bring-to-pitch"], after=0, last=False) == ()


def test_leave_to_tune_up_is_judged_when_all_readings_are_in(sound: Examined) -> None:
    calm = replace(sound, advice=replace(sound.advice, advice=()))
    assert found(calm, "bring-to-pitch") == ()
    assert found(calm, "bring-to-pitch", last=True) == (Unsafe(1, "tension", "bring-to-pitch", ()),)


def test_a_remedy_that_a_case_forbids_by_name_or_by_its_heat(lifting: Examined) -> None:
    assert Unsafe(1, "remedy", "bridge-reglue", ()) in found(lifting, "bridge-reglue")
    assert Unsafe(1, "remedy", "bridge-reglue", ()) in found(lifting, "heat")
    assert found(lifting, "rod-adjust") == ()
