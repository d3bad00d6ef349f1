"""A gauge shows the reading where it is, the limits where they are, each field as what it is."""

from __future__ import annotations

from itertools import pairwise, takewhile
from typing import TYPE_CHECKING

import pytest
from hypothesis import given

from report.pictures.made import gauge, gauges
from report.pictures.seen import named, require_sound, shapes
from tailblock.knowledge.levels import Levels
from tailblock.report.measured import zones
from tailblock.report.model import Gauge
from tailblock.report.pictures.gauge import gauge_picture, key_picture

if TYPE_CHECKING:
    from report.pictures.seen import Shape
    from tailblock.report.model import Copy, Report, Zone


# Levels from low to high, the place of the normal one, and what each counts as: the first off
# normal is to be watched only where a worse one stands behind it.
@pytest.mark.parametrize(
    ("levels", "normal", "expected"),
    [
        (("flush", "proud"), 0, ("normal", "outside")),
        (("none", "slight", "marked", "open"), 0, ("normal", "watch", "outside", "outside")),
        (("wafer", "low", "normal"), 2, ("outside", "watch", "normal")),
        (("shy", "normal", "proud"), 1, ("outside", "normal", "outside")),
        (
            ("very-low", "low", "normal", "high"),
            2,
            ("outside", "watch", "normal", "outside"),
        ),
    ],
)
def test_a_level_is_normal_to_be_watched_or_outside(
    levels: tuple[str, ...], normal: int, expected: tuple[Zone, ...]
) -> None:
    assert zones(Levels(levels, normal)) == expected


def upright(drawn: list[Shape]) -> list[Shape]:
    """Return the limits: upright lines that reach beyond the band."""
    return [one for one in drawn if one.name == "line" and one.box[3] - one.box[1] > 15]


@given(gauges())
def test_it_is_sound_whatever_was_read(reading: Gauge) -> None:
    require_sound(gauge_picture("Action at the 12th fret", reading))


@given(gauges())
def test_limits_value_and_uncertainty_lie_on_one_straight_scale(reading: Gauge) -> None:
    drawn = shapes(gauge_picture("Action", reading))
    (diamond,) = (one for one in drawn if one.name == "polygon")
    bar = next(one for one in drawn if one.attributes.get("stroke-width") == "2")
    low, high = reading.value - reading.uncertainty, reading.value + reading.uncertainty
    placed = {
        **dict(zip(reading.edges, (line.middle for line in upright(drawn)), strict=True)),
        reading.value: diamond.middle,
        low: bar.box[0],
        high: bar.box[2],
    }
    start, end = min(placed), max(placed)
    if start == end:
        return
    scale = (placed[end] - placed[start]) / (end - start)
    assert scale > 0
    for value, x in placed.items():
        assert x == pytest.approx(placed[start] + scale * (value - start), abs=0.16)


@given(gauges())
def test_every_field_has_its_own_hatch(reading: Gauge) -> None:
    drawn = shapes(gauge_picture("Action", reading))
    fields = [one for one in drawn if one.name == "rect" and one.attributes["fill"] != "none"]
    assert len(fields) == len(reading.zones)
    for one, following in pairwise(fields):
        assert one.box[2] == pytest.approx(following.box[0], abs=0.16)
    for one, zone in zip(fields, reading.zones, strict=True):
        after = drawn[drawn.index(one) + 1 :]
        hatches = [*takewhile(lambda shape: shape.name == "path", after)]
        if one.box[2] - one.box[0] > 1:
            assert bool(hatches) == (zone != "normal")
        for hatch in hatches:
            assert one.box[0] - 0.11 <= hatch.box[0] <= hatch.box[2] <= one.box[2] + 0.11


def test_limits_are_written_in_both_systems_of_units_with_the_unit_once() -> None:
    picture = gauge_picture("Action", gauge(2.78, 0.05, (1.5, 1.9, 2.7, 3.2, 4.0), 2))
    texts = [one.text for one in named(picture, "text")]
    assert texts == [
        "1.50", "1.90", "2.70", "3.20", "4.00", "mm",
        "4/64", "5/64", "7/64", "1/8", "5/32", "in",
    ] or texts[5] == "mm"  # fmt: skip


def test_what_has_one_system_of_units_is_written_once() -> None:
    one = gauge(30, 2, (25, 35, 55), 2)
    wet = Gauge(
        one.value, one.uncertainty, one.edges, ("25\xa0%", "35\xa0%", "55\xa0%"), one.zones,
        one.normal, one.text,
    )  # fmt: skip
    texts = [shape.text for shape in named(gauge_picture("Humidity", wet), "text")]
    assert texts == ["25", "35", "55", "%"]


def test_where_not_all_limits_have_room_the_normal_ones_are_written() -> None:
    edges = (1000.01, 1000.02, 1000.03, 1000.04, 1000.05, 1000.06)
    texts = [one.text for one in named(gauge_picture("Long", gauge(1, 0.1, edges, 3)), "text")]
    assert texts[:3] == ["1000.0", "1000.0", "mm"]


def test_the_title_is_the_check_and_the_words_say_the_reading(hot_car: Report) -> None:
    found = [f for part in hot_car.findings for f in part.findings if f.gauge]
    assert found
    for finding in found:
        assert finding.gauge is not None
        picture = gauge_picture(finding.check, finding.gauge)
        require_sound(picture)
        assert picture.title == finding.check
        assert "normal is" in picture.text
        for limit in finding.gauge.limits:
            assert limit in picture.text


@pytest.mark.parametrize("copy", ["bench", "player"])
def test_the_key_shows_every_kind_of_field_with_its_word(copy: Copy) -> None:
    picture = key_picture(copy)
    require_sound(picture)
    words = [one.text for one in named(picture, "text")]
    assert words[:3] == ["normal", "to be watched", "outside"]
    assert len(named(picture, "path")) == 2  # slanted, and crossed
