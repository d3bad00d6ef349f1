"""What a twelve-string and a nylon-string have of their own, and what they do not have."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.lint import lint
from tailblock.knowledge.lint.profiles import plain
from tailblock.knowledge.traits import alone, applies

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture(params=["twelve", "nylon"])
def kind(request: pytest.FixtureRequest) -> Checklist:
    checklist: Checklist = request.getfixturevalue(request.param)
    return checklist


def test_lint_has_nothing_to_say(kind: Checklist) -> None:
    # among its rules: the hidden graph is at most 12 wide for every trait
    assert [str(problem) for problem in lint(kind)] == []


def test_every_entry_of_its_own_names_its_sources(kind: Checklist, flat_top: Checklist) -> None:
    for section in ("faults", "symptoms", "checks", "remedies", "cautions"):
        own, inherited = getattr(kind, section), getattr(flat_top, section)
        added = own.keys() - inherited.keys()
        assert [entry for entry in added if not own[entry].sources] == []


def test_every_check_of_its_own_has_steps_a_trap_and_a_look_alike(
    kind: Checklist, flat_top: Checklist
) -> None:
    for name in kind.checks.keys() - flat_top.checks.keys():
        check = kind.checks[name]
        assert check.trap, name
        assert check.look_alike or check.derived, name
        assert check.derived or (check.how or "").startswith("1. "), name


@pytest.mark.parametrize(
    "gone",
    [
        # common practice: nothing of pins and ball ends on a tie block
        "plate-worn",
        "ball-end-unseated",
        "pin-holes-worn",
        "pins-poor-fit",
        "ball-off-plate",
        "plate-mirror",
        "plate-holes",
        "pin-rise",
        "pin-fit",
        "pin-fit-set",
        "plate-plug",
        "winding-look",
        "break-height",
        "c-pins-pop",
    ],
)
def test_no_pins_and_no_plate_chewed_by_balls_on_nylon(
    nylon: Checklist, flat_top: Checklist, gone: str
) -> None:
    sections = ("faults", "symptoms", "checks", "remedies")
    assert any(gone in getattr(flat_top, section) for section in sections)
    assert not any(gone in getattr(nylon, section) for section in sections)


@pytest.mark.parametrize(
    ("fault", "traits", "there"),
    [
        ("neck-bolts-loose", {"neck-joint": "spanish-heel"}, False),
        ("neck-bolts-loose", {"neck-joint": "bolt-on"}, True),  # few have them
        ("neck-joint-loose", {"neck-joint": "spanish-heel"}, False),  # no joint that could slip
        ("slipper-loose", {"neck-joint": "spanish-heel"}, True),
        ("slipper-loose", {"neck-joint": "dovetail"}, False),
        ("truss-rod-failed", {"truss": "none"}, False),
        ("x-joint-loose", {"bracing": "fan"}, False),
        ("brace-loose-main", {"bracing": "fan"}, False),
        ("brace-loose-fan", {"bracing": "fan"}, True),
        ("brace-loose-fan", {"bracing": "ladder"}, False),
        ("plate-loose", {"plate-wood": "none"}, False),
        ("pegs-slip", {"tuners": "pegs"}, True),
        ("pegs-slip", {"tuners": "geared"}, False),
        ("tuner-worn", {"tuners": "pegs"}, False),
        ("tie-block-worn", {"bridge": "pinless"}, True),
        ("tailpiece-failing", {"bridge": "pinless"}, False),
        ("bridge-lifting", {"bridge": "pinless"}, True),
        ("gut-frayed", {"strings": "gut"}, True),
        ("gut-frayed", {"strings": "nylon"}, False),
    ],
)
def test_what_applies_to_which_nylon_string(
    nylon: Checklist, fault: str, traits: dict[str, str], there: bool
) -> None:
    assert applies(nylon.faults[fault], plain(nylon) | traits, nylon) is there


@pytest.mark.parametrize("check", ["break-angle", "break-distance", "tie-hole-drop", "loop-lift"])
def test_the_break_over_a_tie_block_can_be_read(nylon: Checklist, check: str) -> None:
    assert applies(nylon.checks[check], plain(nylon), nylon)


def test_what_nobody_knows_of_a_nylon_string_is_taken_as_on_nylon_strings(nylon: Checklist) -> None:
    # shares of what comes through a general repair shop, from memory
    assert nylon.traits["bracing"].shares["fan"] == 0.85
    assert nylon.traits["neck-joint"].shares["spanish-heel"] == 0.55
    assert nylon.traits["truss"].shares["none"] == 0.68
    assert nylon.traits["head"].shares["slotted"] == 0.97


@pytest.mark.parametrize("fault", ["bridge-lifting", "top-hump", "neck-excess-relief"])
def test_steel_on_a_nylon_body_runs_to_bridge_top_and_neck(nylon: Checklist, fault: str) -> None:
    wrong = nylon.faults["wrong-string-type"]
    assert (wrong.under_tension, wrong.harm) == ("danger", "destructive")
    strength = {cause.fault: cause.strength for cause in nylon.faults[fault].caused_by}
    assert strength["wrong-string-type"] >= 0.6  # often, or usually


def test_a_twelve_at_concert_pitch_is_more_likely_overloaded(
    twelve: Checklist, flat_top: Checklist
) -> None:
    fault = twelve.faults["string-overload"]

    def start(**traits: str) -> float:
        world = plain(twelve) | {name.replace("_", "-"): value for name, value in traits.items()}
        return alone(fault, world, twelve)

    old = start(tuning="concert", age="over-40")
    assert old == start(tuning="concert", build="light") == pytest.approx(0.6)  # often
    assert start(tuning="tone-down", string_load="light") == pytest.approx(0.03)  # rarely
    assert old > alone(flat_top.faults["string-overload"], plain(flat_top), flat_top)


def test_the_load_of_a_twelve_is_linked_more_strongly_to_belly_and_block(
    twelve: Checklist, flat_top: Checklist
) -> None:
    for fault in ("top-hump", "neck-block-rotated"):
        by_kind = [
            {cause.fault: cause.strength for cause in one.faults[fault].caused_by}
            for one in (flat_top, twelve)
        ]
        assert by_kind[0]["string-overload"] < by_kind[1]["string-overload"]


def test_the_strips_beside_the_tongue_are_looked_at_on_arrival(twelve: Checklist) -> None:
    opening = twelve.stages["arrival"].opening
    assert "tongue-cracks" in opening
    assert opening.index("tongue-cracks") < opening.index("rh-room")


def test_the_magnet_comes_before_any_measuring_on_nylon(nylon: Checklist) -> None:
    opening = nylon.stages["arrival"].opening
    assert opening.index("string-type") < opening.index("tension-state")


def test_the_block_comes_before_the_slipped_top_of_a_twelve(twelve: Checklist) -> None:
    assert "block-reglue" in twelve.remedies["shear-repair"].needs.remedies
