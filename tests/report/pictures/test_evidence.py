"""The picture of the evidence: its lines are the weights that the report argues with."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from report.pictures.seen import named, require_sound, shapes
from tailblock.report.model import Weight
from tailblock.report.pictures.evidence import FAULTS, LINES, READINGS, evidence_picture

if TYPE_CHECKING:
    from report.pictures.seen import Shape
    from tailblock.report.model import Cause, Causes, Report
    from tailblock.report.pictures.picture import Picture

NUMBER = re.compile(r"[+-]\d+\.\d")


@pytest.fixture
def causes(hot_car: Report) -> Causes:
    return hot_car.causes


def drawn(causes: Causes) -> Picture:
    picture = evidence_picture(causes)
    assert picture is not None
    return picture


def numbers(picture: Picture) -> list[float]:
    return [float(one.text) for one in named(picture, "text") if NUMBER.fullmatch(one.text)]


def lines(picture: Picture) -> list[Shape]:
    """Return the lines of the graph; the two of the legend come last."""
    return named(picture, "path")[:-2]


def many(causes: Causes, faults: int, readings: int, name: str = "A reading") -> Causes:
    """Return causes of which each is spoken of by several readings, some of them against it."""
    (cause, *_) = causes.argued
    weights = [
        Weight(f"{name} {at}", "marked", "", 9.0 - at if at % 3 else at - 9.0, "")
        for at in range(readings)
    ]
    made = tuple(
        replace(
            cause,
            id=f"fault-{at}",
            name=f"{name} {at}",
            in_favour=tuple(one for one in weights[at:] if one.decibans > 0),
            against=tuple(one for one in weights[at:] if one.decibans < 0),
        )
        for at in range(faults)
    )
    return replace(causes, argued=made)


def weights_of(cause: Cause) -> list[float]:
    return [round(one.decibans, 1) for one in (*cause.in_favour, *cause.against)]


def test_every_line_is_a_weight_of_the_report(causes: Causes) -> None:
    argued = [weight for cause in causes.argued for weight in weights_of(cause)]
    found = numbers(drawn(causes))
    assert found
    assert set(found) <= set(argued)
    assert len(lines(drawn(causes))) == len(found)


def test_what_is_stronger_is_thicker_and_what_speaks_against_is_dashed(causes: Causes) -> None:
    picture = drawn(many(causes, 2, 6))
    by_strength = sorted(
        zip(numbers(picture), lines(picture), strict=True), key=lambda pair: abs(pair[0])
    )
    widths = [line.at("stroke-width") for _, line in by_strength]
    assert widths == sorted(widths)
    assert widths[0] < widths[-1]
    for number, line in by_strength:
        assert ("stroke-dasharray" in line.attributes) == (number < 0)
    assert {number < 0 for number, _ in by_strength} == {True, False}


@pytest.mark.parametrize(("faults", "readings"), [(1, 1), (1, 9), (3, 5), (9, 9)])
def test_only_the_leading_few_are_drawn_and_nothing_overlaps(
    causes: Causes, faults: int, readings: int
) -> None:
    picture = drawn(many(causes, faults, readings))
    require_sound(picture)
    boxes = [one for one in named(picture, "rect") if "stroke" in one.attributes]
    assert len(boxes) <= min(faults, FAULTS) + min(readings, READINGS)
    assert len(lines(picture)) <= min(faults, FAULTS) * LINES


def test_the_strongest_readings_are_kept(causes: Causes) -> None:
    weights = [9.0 - at if at % 3 else at - 9.0 for at in range(30)]  # as `many` makes them
    strongest = sorted(map(abs, weights), reverse=True)[:LINES]
    assert sorted(map(abs, numbers(drawn(many(causes, 1, 30)))), reverse=True) == strongest


def test_no_leading_fault_is_without_its_strongest_reading(causes: Causes) -> None:
    loud = many(causes, 3, 12).argued
    quiet = replace(
        causes.argued[0],
        id="quiet",
        in_favour=(Weight("A quiet reading", "slight", "", 1.2, ""),),
        against=(),
    )
    assert 1.2 in numbers(drawn(replace(causes, argued=(*loud, quiet))))


def test_texts_lie_within_their_boxes(causes: Causes) -> None:
    picture = drawn(many(causes, 3, 6, "Where it has stood for three months, and how damp"))
    boxes = [one.box for one in named(picture, "rect") if "stroke" in one.attributes]
    floor = max(box[3] for box in boxes)
    names = [
        one
        for one in named(picture, "text")
        if "text-anchor" not in one.attributes and one.box[3] <= floor  # no number, no legend
    ]
    assert len(names) >= 9
    for text in names:
        assert any(_within(text.box, box) for box in boxes), text


def _within(inner: tuple[float, ...], outer: tuple[float, ...]) -> bool:
    low = inner[0] >= outer[0] and inner[1] >= outer[1]
    return low and inner[2] <= outer[2] and inner[3] <= outer[3]


def test_in_words_it_says_each_fault_with_its_readings(causes: Causes) -> None:
    said = drawn(causes).text
    for number in numbers(drawn(causes)):
        assert f"{number:+.1f} decibans" in said
    assert causes.argued[0].name in said


def test_hostile_names_are_text(causes: Causes) -> None:
    picture = drawn(many(causes, 2, 3, "<script>alert(1)</script> & ]]>"))
    assert "<script" not in picture.body
    assert any("<script>" in one.text for one in shapes(picture))


def test_there_is_none_where_nothing_is_argued_or_no_reading_weighs(causes: Causes) -> None:
    assert evidence_picture(replace(causes, argued=())) is None
    light = tuple(replace(cause, in_favour=(), against=()) for cause in causes.argued)
    assert evidence_picture(replace(causes, argued=light)) is None
