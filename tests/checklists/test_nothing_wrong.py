"""Nothing is wrong can win: a sound instrument with a complaint ends as one, and says why.

The readings are those that a sound instrument gives, by common practice (no source); the four
complaints are the ones with which sound instruments come in. What is harmless has to stand above
one half, above its start, and each fault that it imitates below a fifth, having been looked at.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import pytest

from bench import PLAIN, Said, bench

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

# The look for danger and the plain numbers, every one in order.
SOUND = {
    "acclimatised": "room",
    "tension-state": "at-pitch",
    "rh-room": "47 %",
    "rh-case": "47 %",
    "string-condition": "fresh",
    "head-look": "none",
    "heel-feeler": "none",
    "heel-rock": "solid",
    "tongue-cracks": "none",
    "bridge-light": "solid",
    "bridge-feeler": "0 mm",
    "relief-bass": "0.15 mm",
    "action-12-bass": "2.4 mm",
    "action-12-treble": "1.8 mm",
    "saddle-exposure": "3.1 mm",
    "projection": "0.5 mm",
    "belly-across": "2.3 mm",
    "bridge-tilt": "0.6 deg",
    "front-dip": "0.3 mm",
    "ridge-light": "smooth",
}


class Case(NamedTuple):
    """What explains it, what is known of the guitar, and what differs from `SOUND`."""

    harmless: str
    traits: dict[str, str]
    readings: dict[str, str]


CASES = [
    # a player who has laid a ruler on the top; the maker's drawings are at hand, or are not
    Case("made-dome", {"dome": "domed"}, {"c-belly": "yes", "profile-sight": "mild"}),
    Case("made-dome", {}, {"c-belly": "yes", "profile-sight": "mild", "belly-across": "2.9 mm"}),
    # strung yesterday, goes flat a little on all strings
    Case(
        "strings-settling",
        {},
        {
            "c-wont-stay-tuned": "yes",
            "c-new-strings": "yes",
            "string-age": "today",
            "string-wraps": "tidy",
            "tune-hold": "6 cents",
            "nut-behind": "1 cents",
            "tuner-backlash": "tight",
        },
    ),
    # a little higher every summer
    Case(
        "seasonal-movement",
        {"season": "humid"},
        {
            "c-seasonal": "yes",
            "rh-case": "54 %",
            "climate-story": "swings",
            "action-12-bass": "2.8 mm",
            "belly-across": "2.9 mm",
        },
    ),
    # bought a week ago, wants it lower than it was ever meant to be
    Case(
        "player-expectation",
        {},
        {
            "c-just-bought": "yes",
            "c-not-as-hoped": "yes",
            "c-hard-everywhere": "yes",
            "action-wanted": "1.6 mm",
            "player-proof": "remark",
            "play-it": "player-only",
            "nut-gap-third": "0.12 mm",
            "fret-rock": "none @ slack",
        },
    ),
]


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case.harmless} {case.traits}")
def case(request: pytest.FixtureRequest) -> Case:
    found: Case = request.param
    return found


@pytest.fixture(scope="module")
def said(case: Case, flat_top: Checklist) -> Said:
    return bench(flat_top, {**PLAIN, **case.traits}, {**SOUND, **case.readings})


def test_the_harmless_explanation_stands_first_and_the_readings_put_it_there(
    case: Case, said: Said
) -> None:
    assert said.chance(case.harmless) > max(0.5, said.start(case.harmless))
    assert said.verdict.kind == "nothing-wrong"
    assert said.verdict.faults[0] == case.harmless


def test_each_fault_that_it_imitates_has_been_outdone(
    case: Case, said: Said, flat_top: Checklist
) -> None:
    rivals = [r for r in flat_top.faults[case.harmless].rivals if r in said.compiled.current[0]]
    assert rivals
    for rival in rivals:
        assert said.chance(rival) < 0.2, rival


def test_no_structural_fault_stands_above_a_fifth_and_no_danger_is_open(
    said: Said, flat_top: Checklist
) -> None:
    for fault in flat_top.faults.values():
        structural = fault.harm in {"serious", "destructive"} and fault.kind == "condition"
        if structural and fault.id in said.compiled.current[0]:
            assert said.chance(fault.id) < 0.2, fault.id
    assert said.verdict.danger_open == ()


# The same complaint with one reading that a fault gives: the harmless explanation gives way.
@pytest.mark.parametrize(
    ("complaint", "reading", "fault"),
    [
        (
            {"c-belly": "yes", "action-12-bass": "3.4 mm", "projection": "-0.8 mm"},
            {"belly-across": "6.5 mm", "bridge-tilt": "3 deg"},
            "top-hump",
        ),
        (
            {"c-wont-stay-tuned": "yes"},
            {"string-wraps": "slipping", "tune-hold": "12 cents"},
            "strings-badly-wound",
        ),
        ({"c-seasonal": "yes"}, {"rh-case": "28 %", "fret-ends": "scratch"}, "climate-dry"),
        (
            {"c-hard-everywhere": "yes", "action-12-bass": "3.6 mm"},
            {"projection": "-2.4 mm", "saddle-exposure": "1.0 mm"},
            "neck-angle-lost",
        ),
    ],
)
def test_a_reading_that_a_fault_gives_ends_it(
    complaint: dict[str, str], reading: dict[str, str], fault: str, flat_top: Checklist
) -> None:
    said = bench(flat_top, PLAIN, {**SOUND, **complaint, **reading})
    assert said.chance(fault) > 0.5
    assert said.verdict.kind != "nothing-wrong" or fault not in said.verdict.faults
