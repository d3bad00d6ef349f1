"""Gates silence readings or widen their uncertainty, and only those that they name."""

from __future__ import annotations

from math import hypot, sqrt
from typing import TYPE_CHECKING

import pytest

from tailblock.inspection.speaks import hear

if TYPE_CHECKING:
    from builders import Read
    from tailblock.inspection.speaks import Spoken
    from tailblock.knowledge.checklist import Checklist

ACTION_U = hypot(0.1 / sqrt(12), 0.05)
RELIEF_U = hypot(0.05 / sqrt(12), 0.03)
AIM_U = hypot(0.5 / sqrt(12), 0.2)
NORMAL = 0.8  # mm, width of the normal band of the action on steel strings


def spoken(inspection: Read, bench: Checklist, *readings: str) -> dict[str, Spoken]:
    lines = "".join(f"      - {{{reading}}}\n" for reading in readings)
    text = f"  - stage: arrival\n    date: 2031-03-02\n    readings:\n{lines}"
    record = inspection(text)
    return {one.check: one for one in hear(bench, record.instrument, record.visits[0]).spoken}


@pytest.mark.parametrize(
    ("gate", "added", "by"),
    [
        ("settling, value: rested", 0.0, ()),
        ("settling, value: unknown", 0.0, ()),
        ("settling, value: an-hour", 0.3, ("settling",)),
        ("room, value: 45 %", 0.0, ()),
        ("room, value: 35 %", 0.0, ()),  # dry, but not from the level on that the gate names
        ("room, value: 20 %", 0.5 * NORMAL, ("room",)),
        ("room, value: 80 %", 0.5 * NORMAL, ("room",)),
    ],
)
def test_a_gate_adds_to_the_uncertainty_from_its_level_on(
    inspection: Read, bench: Checklist, gate: str, added: float, by: tuple[str, ...]
) -> None:
    found = spoken(inspection, bench, f"check: {gate}", "check: action, value: 2.5 mm")["action"]
    assert found.u == pytest.approx(hypot(ACTION_U, added))
    assert found.widened_by == by


def test_several_gates_add_in_quadrature(inspection: Read, bench: Checklist) -> None:
    found = spoken(
        inspection,
        bench,
        "check: settling, value: an-hour",
        "check: room, value: 80 %",
        "check: action, value: 2.5 mm",
    )["action"]
    assert found.u == pytest.approx(sqrt(ACTION_U**2 + 0.3**2 + (0.5 * NORMAL) ** 2))
    assert found.widened_by == ("settling", "room")


def test_a_worse_level_of_the_same_gate_silences(inspection: Read, bench: Checklist) -> None:
    record = inspection(
        "  - stage: arrival\n    date: 2031-03-02\n    readings:\n"
        "      - {check: settling, value: just-in}\n      - {check: action, value: 2.5 mm}\n"
    )
    heard = hear(bench, record.instrument, record.visits[0])
    assert [one.check for one in heard.spoken] == ["settling"]
    assert [(one.reading, one.reason, one.note) for one in heard.silent] == [
        (1, "'Has it come to rest?' came out as just in", "wood and strings drift")
    ]


def test_a_gate_leaves_alone_what_it_does_not_name(inspection: Read, bench: Checklist) -> None:
    found = spoken(
        inspection,
        bench,
        "check: settling, value: just-in",
        "check: tilt, value: 1 deg",
        "check: action-guessed, value: 2.5 mm",
    )
    assert found["tilt"].widened_by == found["action-guessed"].widened_by == ()


@pytest.mark.parametrize(
    ("check", "u", "width"),
    [
        ("relief", RELIEF_U, 1.3),  # ordinary: from the least possible, -1 mm, to 0.3 mm
        ("projection", AIM_U, 1.6),  # normal: -0.8 to 0.8 mm
    ],
)
def test_half_a_normal_band_is_half_of_its_width(
    inspection: Read, bench: Checklist, check: str, u: float, width: float
) -> None:
    found = spoken(inspection, bench, "check: room, value: 80 %", f"check: {check}, value: 0 mm")[
        check
    ]
    assert found.u == pytest.approx(hypot(u, 0.5 * width))


def test_a_gate_speaks_about_a_reading_by_its_answer_in_the_same_setup(
    inspection: Read, bench: Checklist
) -> None:
    found = spoken(
        inspection,
        bench,
        "check: settling, value: an-hour",
        "check: settling, value: rested, setup: {strings: slack}",
        "check: action, value: 2.5 mm, setup: {strings: at-pitch}",
        "check: tilt, value: 1 deg",
    )
    assert found["action"].widened_by == ("settling",)
    other = spoken(
        inspection,
        bench,
        "check: settling, value: an-hour",
        "check: settling, value: rested, setup: {strings: slack}",
        'check: action, value: 2.5 mm, setup: {strings: "off"}',
    )
    assert other["action"].widened_by == ()  # its last answer, where none is in the same setup


def test_widening_reaches_a_derived_check_through_its_inputs_and_by_its_name(
    inspection: Read, bench: Checklist
) -> None:
    tilt = hypot(0.1 / sqrt(12), 0.2)
    named = spoken(
        inspection,
        bench,
        "check: settling, value: an-hour",
        "check: tilt, value: 5 deg",
        "check: tilt, value: 1 deg, setup: {strings: slack}",
    )["tilt-change"]
    assert named.u == pytest.approx(sqrt(2 * tilt**2 + 1.0**2))
    assert named.widened_by == ("settling",)
    through = spoken(
        inspection,
        bench,
        "check: room, value: 80 %",
        "check: projection, value: -2 mm",
        "check: relief, value: 0.165 mm",
    )["aim"]
    inputs = hypot(AIM_U, 0.5 * 1.6), hypot(RELIEF_U, 0.5 * 1.3)
    own = 0.5 * 1.6  # the gate is of all lengths, so of the derived one as well
    assert through.u == pytest.approx(sqrt(inputs[0] ** 2 + (2.9 * inputs[1]) ** 2 + own**2))


def test_a_gate_that_was_taken_back_does_nothing(inspection: Read, bench: Checklist) -> None:
    found = spoken(
        inspection,
        bench,
        "check: settling, value: just-in, retracted: true",
        "check: action, value: 2.5 mm",
    )["action"]
    assert found.u == pytest.approx(ACTION_U)


def test_an_answer_in_levels_is_silenced_but_not_widened(
    inspection: Read, bench: Checklist
) -> None:
    found = spoken(
        inspection, bench, "check: settling, value: an-hour", "check: pins, value: straight"
    )
    assert (found["pins"].level, found["pins"].widened_by) == ("straight", ())
    silenced = spoken(
        inspection, bench, "check: settling, value: just-in", "check: pins, value: straight"
    )
    assert "pins" not in silenced
