"""Which readings of a visit are compared, and which of them is to be taken again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from demos import shipped
from tailblock.inspection import store
from tailblock.inspection.reconcile import STIFF, cross_checks
from tailblock.inspection.speaks import hear
from tailblock.measures.geometry import QUANTITIES
from tailblock.pipeline import examine

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.inspection.reconcile import Compared, CrossChecks
    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist

HEAD = """
tailblock: 1
job: "2031-014"
checklist: flat-top
instrument:
  description: An invented guitar
  traits: {strings: steel, bridge: pin}
  scale_length: 648 mm
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: at-pitch}
    readings:
"""

# By geometry (k = 0.469) the action of these asks for an aim of -0.24 mm.
AGREEING = {
    "action-12-bass": "2.3 mm",
    "action-12-treble": "1.7 mm",
    "saddle-exposure": "3.4 mm",
    "relief-bass": "0.15 mm",
    "relief-treble": "0.15 mm",
    "nut-open-first": "0.39 mm",
    "projection": "-0.25 mm",
}
LYING = AGREEING | {"projection": "0.8 mm"}  # the straightedge rides on a hump
SLACK = "setup: {strings: slack}"
BRIDGE = [f"{{check: bridge-thick, value: 9.0 mm, {SLACK}}}"]


@pytest.fixture(scope="module")
def flat_top() -> Checklist:
    return shipped("flat-top")


def lines(read: dict[str, str]) -> list[str]:
    return [f"{{check: {check}, value: {value}}}" for check, value in read.items()]


def record(checklist: Checklist, readings: list[str], head: str = HEAD) -> Inspection:
    text = head + "".join(f"      - {reading}\n" for reading in readings)
    return store.from_bytes(text.encode(), Path("job.yaml"), lambda _: checklist)


def compared(checklist: Checklist, readings: list[str], head: str = HEAD) -> CrossChecks | None:
    inspection = record(checklist, readings, head)
    (visit,) = inspection.visits
    heard = hear(checklist, inspection.instrument, visit)
    return cross_checks(checklist, inspection.instrument, visit, heard)


def found(checklist: Checklist, readings: list[str], head: str = HEAD) -> CrossChecks:
    crossed = compared(checklist, readings, head)
    assert crossed is not None
    return crossed


def by_check(crossed: CrossChecks) -> dict[str, Compared]:
    return {one.check: one for one in crossed.compared}


def checks_of(checklist: Checklist) -> dict[str, str]:
    """Return quantity -> check, as the checklist's `geometry` says."""
    read_by = {name.replace("-", "_"): one.check for name, one in checklist.geometry.items()}
    return {name: read_by[name] for name in QUANTITIES}


def test_the_shipped_checklist_reads_every_quantity(flat_top: Checklist) -> None:
    for check in checks_of(flat_top).values():
        measure = flat_top.checks[check].measure
        assert measure is not None
        assert measure.unit == "mm"


def test_readings_that_agree_are_compared_and_none_is_to_be_taken_again(
    flat_top: Checklist,
) -> None:
    crossed = found(flat_top, lines(AGREEING))
    assert list(by_check(crossed)) == [
        check for check in checks_of(flat_top).values() if check in AGREEING
    ]
    assert (crossed.take_again, crossed.why) == ((), "")
    assert crossed.relations == ("action",)
    assert crossed.degrees == 1
    assert crossed.chance > 0.9
    assert crossed.setup["strings"] == "at-pitch"
    assert crossed.taken_as_usual == ()
    aim = by_check(crossed)["projection"]
    assert aim.readings == (6,)
    assert aim.value == -0.25
    assert aim.u == pytest.approx(0.26, abs=0.001)  # resolution and hand 0.25 mm each
    assert aim.implied == pytest.approx(-0.24, abs=0.01)
    assert aim.adjusted == pytest.approx(-0.25, abs=0.01)
    assert aim.adjusted_u < aim.u < aim.implied_u


def test_the_straightedge_that_lies_is_named_first(flat_top: Checklist) -> None:
    """One relation cannot tell who is wrong; two would have to be wrong by about as much."""
    crossed = found(flat_top, lines(LYING))
    assert crossed.take_again == ("projection", "saddle-exposure")
    assert crossed.why == "smallest-error"
    named = by_check(crossed)
    assert named["projection"].implied == pytest.approx(-0.24, abs=0.01)
    assert named["saddle-exposure"].implied == pytest.approx(3.4 + 0.8 + 0.24, abs=0.01)
    assert all(one.is_off and one.alone for one in crossed.compared)
    assert crossed.chance < 0.05


def test_a_second_relation_tells_which_of_them_is_wrong(flat_top: Checklist) -> None:
    readings = [*lines(LYING | {"projection-top": "9.0 mm"}), *BRIDGE]
    crossed = found(flat_top, readings)
    assert crossed.relations == ("action", "aim")
    assert (crossed.take_again, crossed.why) == (("projection",), "only-one")
    assert [one.check for one in crossed.compared if one.alone] == ["projection"]


def test_two_wrong_readings_are_more_than_leaving_out_one_mends(flat_top: Checklist) -> None:
    wrong = LYING | {"projection-top": "9.0 mm", "string-top": "14.4 mm"}
    crossed = found(flat_top, [*lines(wrong), *BRIDGE])
    assert (crossed.take_again, crossed.why) == (("string-top",), "more-than-one")
    assert crossed.degrees == 3
    assert not any(one.alone for one in crossed.compared)


def test_what_was_not_read_is_taken_as_usual_and_named(flat_top: Checklist) -> None:
    few = {name: LYING[name] for name in ("action-12-bass", "saddle-exposure", "projection")}
    crossed = found(flat_top, lines(few))
    assert crossed.taken_as_usual == (
        "first-opening", "action-treble", "relief-bass", "relief-treble",
    )  # fmt: skip
    more = by_check(found(flat_top, lines(LYING)))["projection"]
    assert by_check(crossed)["projection"].implied_u > more.implied_u


@pytest.mark.parametrize("scale", ["  scale_length: 648 mm\n", ""])
def test_the_scale_length_hardly_matters(flat_top: Checklist, scale: str) -> None:
    head = HEAD.replace("  scale_length: 648 mm\n", scale)
    aim = by_check(found(flat_top, lines(AGREEING), head))["projection"]
    assert aim.implied == pytest.approx(-0.24, abs=0.01)


@pytest.mark.parametrize(
    "readings",
    [
        pytest.param([], id="nothing read"),
        pytest.param(["{check: bridge-thick, value: 9 mm, setup: {strings: slack}}"], id="stiff"),
        pytest.param(lines({"action-12-bass": "2.3 mm", "saddle-exposure": "3.4 mm"}), id="no aim"),
        pytest.param(
            [*lines(LYING), "{check: tension-state, value: far-down}"], id="not at pitch after all"
        ),
        pytest.param([*lines(LYING), "{check: hump-edge, value: 0.34 mm}"], id="on a known hump"),
        pytest.param(
            [line.replace("}", ", retracted: true}") if "projection" in line else line
             for line in lines(LYING)],
            id="taken back",
        ),
        pytest.param(lines(LYING | {"projection": "unknown"}), id="not known"),
    ],
)  # fmt: skip
def test_too_little_that_counts_compares_nothing(flat_top: Checklist, readings: list[str]) -> None:
    assert compared(flat_top, readings) is None


def test_a_gate_that_widens_a_reading_leaves_its_gauge_alone(flat_top: Checklist) -> None:
    """Much relief says that the aim means less, not that it was read worse."""
    bowed = found(flat_top, lines(AGREEING | {"relief-bass": "0.35 mm"}))
    assert (
        by_check(bowed)["projection"].u == by_check(found(flat_top, lines(LYING)))["projection"].u
    )


def test_a_reading_that_its_family_silences_is_compared_all_the_same(flat_top: Checklist) -> None:
    # the slope of the action from bass to treble would let both sides speak
    checks = {name: check for name, check in flat_top.checks.items() if name != "action-fan"}
    without_slope = replace(flat_top, checks=checks)
    inspection = record(without_slope, lines(AGREEING))
    heard = hear(without_slope, inspection.instrument, inspection.visits[0])
    silenced = {one.reading for one in heard.silent if one.kind == "family"}
    treble = by_check(found(without_slope, lines(AGREEING)))["action-12-treble"]
    assert set(treble.readings) <= silenced


def test_repeated_readings_are_averaged_and_count_for_more(flat_top: Checklist) -> None:
    again = [*lines(LYING), "{check: projection, value: 0.6 mm}"]
    aim = by_check(found(flat_top, again))["projection"]
    assert aim.readings == (6, 7)
    assert aim.value == pytest.approx(0.7)
    assert aim.u == pytest.approx(np.hypot(0.25 / np.sqrt(12), 0.25 / np.sqrt(2)))


@given(st.permutations(lines(LYING)))
def test_the_order_of_the_readings_does_not_matter(
    flat_top: Checklist, readings: list[str]
) -> None:
    crossed, other = found(flat_top, lines(LYING)), found(flat_top, readings)
    assert crossed.take_again == other.take_again
    for one, same in zip(crossed.compared, other.compared, strict=True):
        assert one.check == same.check
        assert one.implied == pytest.approx(same.implied, abs=1e-9)


# A checklist of other ids that lets everything be read in any setup.
FREE_CHECK = """\
  - id: {id}
    part: bench
    title: Read {id}
    ask: How much?
    how: Read it.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {{from: -12 mm, to: 40 mm}}
      gauge: {{resolution: 0.1 mm, repeatability: 0.1 mm}}
      levels: [{{level: low, up_to: 2 mm}}, {{level: high}}]
    shows: [{{fault: wrong, at_least: {{high: often}}}}]
"""
FREE = """\
tailblock: 1
id: flat-top
title: Any reading in any setup
version: 1.0.0
parts: [{id: bench, name: Bench}]
traits:
  - {id: strings, ask: Which?, values: [steel, nylon]}
  - {id: bridge, ask: Which?, values: [pin, pinless]}
setups:
  states: {strings: ["off", slack, at-pitch]}
faults:
  - {id: wrong, part: bench, name: Wrong, plain: It is wrong., alone: seldom, harm: playability,
     pace: years, under_tension: fine}
checks:
"""


@pytest.fixture
def free(checklist: Callable[..., Checklist], flat_top: Checklist) -> Checklist:
    """Return one that has the lengths of the shipped checklist under `my-` ids."""
    own = {name: f"my-{one.check}" for name, one in flat_top.geometry.items()}
    checks = [FREE_CHECK.format(id=check) for check in own.values()]
    geometry = [f"  - {{id: {name}, check: {check}}}\n" for name, check in own.items()]
    return checklist("".join((FREE, *checks, "geometry:\n", *geometry)))


def mine(readings: list[str]) -> list[str]:
    return [reading.replace("check: ", "check: my-") for reading in readings]


def test_a_checklist_of_other_ids_is_compared_as_well(free: Checklist) -> None:
    crossed = found(free, mine([*lines(LYING | {"projection-top": "9.0 mm"}), *BRIDGE]))
    assert crossed.relations == ("action", "aim")
    assert crossed.take_again[0] == "my-projection"


def test_what_the_geometry_does_not_name_is_not_compared(free: Checklist) -> None:
    """Without an aim over the top there is no second relation, and its usual value is no help."""
    few = {name: one for name, one in free.geometry.items() if name != "aim-over-top"}
    readings = mine([*lines(LYING | {"projection-top": "9.0 mm"}), *BRIDGE])
    assert found(replace(free, geometry=few), readings).relations == ("action",)
    unread = replace(free, geometry={k: v for k, v in few.items() if k != "first-opening"})
    assert found(unread, readings).taken_as_usual == ("first-opening",)


def test_only_readings_under_the_same_load_are_compared(free: Checklist) -> None:
    at_pitch = lines({name: value for name, value in LYING.items() if name != "projection"})
    slack = f"{{check: projection, value: 0.8 mm, {SLACK}}}"
    assert compared(free, mine([*at_pitch, slack])) is None
    both = found(
        free, mine([*lines(AGREEING), slack, f"{{check: action-12-bass, value: 1 mm, {SLACK}}}"])
    )
    assert both.setup == {"strings": "at-pitch"}
    assert {one.check: one.readings for one in both.compared}["my-projection"] == (6,)
    assert both.take_again == ()


def test_a_stiff_part_may_be_read_in_another_setup(free: Checklist) -> None:
    assert {"exposure", "thickness"} == STIFF
    slack = [f"{{check: {check}, value: {value}, {SLACK}}}" for check, value in (
        ("saddle-exposure", "3.4 mm"), ("bridge-thick", "9 mm"))]  # fmt: skip
    crossed = found(
        free, mine([*slack, "{check: string-top, value: 12.4 mm, setup: {strings: at-pitch}}"])
    )
    assert crossed.relations == ("string-height",)
    assert crossed.taken_as_usual == ()
    assert crossed.setup == {"strings": "at-pitch"}
    assert crossed.take_again == ()
    again = ["{check: string-top, value: 12.4 mm, setup: {strings: at-pitch}}",
             "{check: saddle-exposure, value: 3.6 mm}"]  # fmt: skip
    twice = found(free, mine([*slack, *again]))
    assert by_check(twice)["my-saddle-exposure"].value == 3.6  # the one under the same load


def test_no_probability_knows_of_the_comparison(flat_top: Checklist) -> None:
    readings = [*lines(LYING | {"projection-top": "9.0 mm", "string-top": "14.4 mm"}), *BRIDGE]
    untouched, asked = (examine(flat_top, record(flat_top, readings)) for _ in range(2))
    assert asked.cross_checks is not None
    assert asked.cross_checks.take_again
    assert asked.beliefs.probability.tobytes() == untouched.beliefs.probability.tobytes()
    assert asked.causes == untouched.causes
    assert asked.advice == untouched.advice
    reasons = [(name, one.in_favour) for name, one in asked.reasons.items()]
    assert reasons == [(name, one.in_favour) for name, one in untouched.reasons.items()]
