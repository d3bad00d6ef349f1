"""Derived checks are computed once all their inputs are in."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, hypot, sqrt
from typing import TYPE_CHECKING

import pytest

from tailblock.inspection.derive import derived
from tailblock.inspection.groups import measured

if TYPE_CHECKING:
    from builders import Read
    from tailblock.inspection.groups import Measured
    from tailblock.knowledge.checklist import Checklist


def computed(
    inspection: Read, bench: Checklist, readings: str, stage: str = "arrival"
) -> dict[str, Measured]:
    record = inspection(f"  - stage: {stage}\n    date: 2031-03-02\n    readings:\n{readings}")
    visit = record.visits[0]
    return derived(bench, record.instrument, visit, measured(bench, visit))


def test_an_input_is_taken_in_the_setup_that_is_asked_for(
    inspection: Read, bench: Checklist
) -> None:
    found = computed(
        inspection,
        bench,
        """\
      - {check: tilt, value: 9 deg, setup: {strings: "off"}}
      - {check: tilt, value: 1.0 deg, setup: {strings: slack}}
      - {check: tilt, value: 3.0 deg, setup: {strings: at-pitch}}
      - {check: tilt, value: 3.4 deg}
""",
    )["tilt-change"]
    assert found.value == pytest.approx(2.2)
    step, hand = 0.1 / sqrt(12), 0.2
    assert found.u == pytest.approx(hypot(hypot(step, hand), hypot(step, hand / sqrt(2))))
    assert found.readings == (1, 2, 3)


@pytest.mark.parametrize(
    "readings",
    [
        pytest.param("      - {check: tilt, value: 3 deg}\n", id="one setup only"),
        pytest.param(
            "      - {check: tilt, value: 3 deg}\n"
            "      - {check: tilt, value: unknown, setup: {strings: slack}}\n",
            id="one unknown",
        ),
        pytest.param(
            "      - {check: tilt, value: 19 deg}\n"
            "      - {check: tilt, value: -19 deg, setup: {strings: slack}}\n",
            id="a result that is not possible",
        ),
    ],
)
def test_without_all_inputs_or_a_possible_result_there_is_none(
    inspection: Read, bench: Checklist, readings: str
) -> None:
    assert computed(inspection, bench, readings) == {}


AIM = "      - {check: projection, value: -2 mm}\n      - {check: relief, value: 0.165 mm}\n"


def test_a_derived_value_and_the_scale_length_may_be_inputs(
    inspection: Read, bench: Checklist
) -> None:
    """atan(aim / D): D of a 647.7 mm scale joined at fret 14 is 288.5 mm and compensation."""
    found = computed(inspection, bench, AIM, "settled")
    assert found["aim"].value == pytest.approx(-2.0)
    to_saddle = 647.7 * 2 ** (-14 / 12)
    assert to_saddle == pytest.approx(288.5, abs=0.1)
    angle = found["reset-angle"]
    assert angle.value == pytest.approx(degrees(atan(-2.0 / to_saddle)), rel=0.02)
    assert angle.u == pytest.approx(degrees(found["aim"].u / to_saddle), rel=0.02)
    assert angle.readings == found["aim"].readings == (0, 1)


def test_a_derived_check_waits_for_its_stage(inspection: Read, bench: Checklist) -> None:
    assert set(computed(inspection, bench, AIM, "arrival")) == {"aim"}


def test_without_a_scale_length_there_is_none(inspection: Read, bench: Checklist) -> None:
    text = f"  - stage: settled\n    date: 2031-03-02\n    readings:\n{AIM}"
    record = inspection(text)
    unmeasured = replace(record.instrument, scale_length=None)
    visit = record.visits[0]
    assert set(derived(bench, unmeasured, visit, measured(bench, visit))) == {"aim"}


@pytest.mark.parametrize(
    ("humidity", "computed_checks"), [("50 %", {"season-action"}), ("80 %", set())]
)
def test_outside_the_range_of_its_formula_there_is_none(
    inspection: Read, bench: Checklist, humidity: str, computed_checks: set[str]
) -> None:
    """The rule of thumb for the season holds from 35 to 60 %."""
    readings = (
        f"      - {{check: room, value: {humidity}}}\n      - {{check: action, value: 2.5 mm}}\n"
    )
    assert set(computed(inspection, bench, readings, "settled")) == computed_checks
