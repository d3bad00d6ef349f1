"""The drawing of the instrument: frets and bridge at their places, what each trait changes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demos import shipped
from report.pictures.seen import named, require_sound, shapes
from tailblock.report.model import (
    Portrait,
    PortraitBracing,
    PortraitBridge,
    PortraitMark,
    PortraitStrings,
)
from tailblock.report.pictures.instrument.braces import braces
from tailblock.report.pictures.instrument.draw import instrument
from tailblock.report.pictures.instrument.numbers import RADIUS, Pointer, beside
from tailblock.report.pictures.instrument.places import (
    ELSEWHERE,
    FINISH,
    NO_GUARD,
    NO_TAILPIECE,
    WHOLE,
    Place,
    Places,
)
from tailblock.report.pictures.svg import WARN

STEEL = Portrait(
    strings="steel",
    bridge="pin",
    bracing="x",
    head="solid",
    tuners="geared",
    guard=True,
    pickup="",
    plate=True,
    scale_length=648.0,
    frets_clear=14,
    marks=(),
    taken=(),
)
NYLON = replace(
    STEEL, strings="nylon", bridge="pinless", bracing="fan", head="slotted", guard=False,
    frets_clear=12, scale_length=650.0,
)  # fmt: skip
STRINGS: tuple[PortraitStrings, ...] = ("steel", "twelve", "nylon")
BRIDGES: tuple[PortraitBridge, ...] = ("pin", "pinless", "floating")
BRACINGS: tuple[PortraitBracing, ...] = ("x", "ladder", "fan", "")
PLACED = (
    "strings", "headstock", "tuners", "nut", "neck", "fingerboard", "frets", "neck-joint", "top",
    "braces", "bridge", "saddle", "pins", "back", "sides", "end-block", "binding", "electronics",
)  # fmt: skip
UNPLACED = {"whole": WHOLE, "finish": FINISH, "tailpiece": NO_TAILPIECE, "guard": NO_GUARD}


def marked(portrait: Portrait, *parts: str) -> Portrait:
    marks = (
        PortraitMark(
            number, "fault", part, f"the {part}", f"Something is wrong at {part}.", "likely", ""
        )
        for number, part in enumerate(parts, start=1)
    )
    return replace(portrait, marks=tuple(marks))


@pytest.mark.parametrize("frets_clear", [12, 14])
@pytest.mark.parametrize("strings", STRINGS)
@pytest.mark.parametrize("bridge", BRIDGES)
@pytest.mark.parametrize("bracing", BRACINGS)
def test_every_kind_stays_on_its_sheet(
    strings: PortraitStrings, bridge: PortraitBridge, bracing: PortraitBracing, frets_clear: int
) -> None:
    kind = replace(STEEL, strings=strings, bridge=bridge, bracing=bracing, frets_clear=frets_clear)
    require_sound(instrument(marked(kind, "braces", "pins", "tuners", "neck-joint", "tailpiece")))


@pytest.mark.parametrize("portrait", [STEEL, NYLON, replace(STEEL, bridge="floating")])
def test_all_parts_can_be_marked_at_once(portrait: Portrait) -> None:
    require_sound(instrument(marked(portrait, *PLACED, *UNPLACED)))


@settings(max_examples=20)
@given(
    scale=st.floats(420, 720),
    clear=st.integers(11, 17),
    strings=st.sampled_from(STRINGS),
    bridge=st.sampled_from(BRIDGES),
    parts=st.lists(st.sampled_from(PLACED), max_size=12),
)
def test_any_size_and_any_number_of_marks_stays_on_its_sheet(
    scale: float, clear: int, strings: PortraitStrings, bridge: PortraitBridge, parts: list[str]
) -> None:
    kind = replace(
        STEEL, scale_length=scale, frets_clear=clear, strings=strings, bridge=bridge, head="slotted"
    )
    require_sound(instrument(marked(kind, *parts)))


@pytest.mark.parametrize(
    ("portrait", "frets"), [(STEEL, 20), (NYLON, 19), (replace(STEEL, frets_clear=12), 19)]
)
def test_frets_lie_where_equal_temperament_puts_them(portrait: Portrait, frets: int) -> None:
    drawing = instrument(portrait)
    (lines,) = [s for s in named(drawing, "path") if s.attributes.get("stroke-width") == "1.4"]
    drawn = [float(end.split(" ")[1].split("L")[0]) for end in lines.attributes["d"].split("M")[1:]]
    assert len(drawn) == frets
    nut = drawn[0] - portrait.scale_length * (1 - 2 ** (-1 / 12))
    for number, y in enumerate(drawn, start=1):
        place = portrait.scale_length * (1 - 2 ** (-number / 12))
        assert y - nut == pytest.approx(place, abs=0.11)  # a coordinate is written to a tenth


@pytest.mark.parametrize("portrait", [STEEL, NYLON, replace(STEEL, scale_length=628.0)])
def test_the_body_begins_at_its_fret_and_the_board_ends_at_the_soundhole(
    portrait: Portrait,
) -> None:
    size = Places(portrait).size
    joins = portrait.scale_length * (1 - 2 ** (-portrait.frets_clear / 12))
    assert min(y for _, y in size.outline) == pytest.approx(joins)
    assert size.board_end == pytest.approx(size.hole - size.hole_radius, abs=3)


def test_the_saddle_stands_at_the_scale_length_and_slants_where_the_strings_are_steel() -> None:
    # from memory: 1 to 2 mm behind it under the first steel string, 4 to 6 under the sixth
    saddle = Places(STEEL).fittings.saddle
    treble = sum(y for x, y in saddle if x > 0) / 2 - 648
    bass = sum(y for x, y in saddle if x < 0) / 2 - 648
    assert 0 < treble < 2.5
    assert 4 < bass < 7
    straight = Places(NYLON).fittings.saddle
    assert {round(y - 650, 6) for _, y in straight} == {0.0, 3.0}


def test_the_bridge_lies_on_the_middle_line_about_its_saddle() -> None:
    for portrait in (STEEL, NYLON, replace(STEEL, bridge="floating")):
        fittings = Places(portrait).fittings
        xs = [x for x, _ in fittings.bridge]
        ys = [y for _, y in fittings.bridge]
        assert sum((min(xs), max(xs))) == pytest.approx(0, abs=0.1)
        assert min(ys) < min(y for _, y in fittings.saddle)
        assert max(y for _, y in fittings.saddle) < max(ys)


def test_an_x_crosses_just_below_the_soundhole_and_its_legs_pass_under_the_ends_of_the_bridge() -> (
    None
):
    places = Places(STEEL)
    _, left, right, *_ = places.braces
    size = places.size
    # where the middle lines of the two legs meet: both run through the same point on x = 0
    below = {round(_at(leg, 0.0), 3) for leg in (left, right)}
    (crosses,) = below
    assert 15 < crosses - (size.hole + size.hole_radius) < 45
    assert crosses < size.scale - 30
    half = max(x for x, _ in places.fittings.bridge)
    for leg in (left, right):
        reach = (size.scale - crosses) / abs(_at(leg, 1.0) - _at(leg, 0.0))
        assert 0.75 * half < reach < 1.25 * half


def _at(leg: tuple[tuple[float, float], ...], x: float) -> float:
    """Return where the middle line of a bar is at a distance from the middle of the body."""
    (x1, y1), (x2, y2) = (
        ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        for one, other in ((leg[0], leg[1]), (leg[2], leg[3]))
    )
    return y1 + (x - x1) * (y2 - y1) / (x2 - x1)


def test_ladder_bars_lie_straight_across_above_and_below_the_hole_and_behind_the_bridge() -> None:
    places = Places(replace(STEEL, bracing="ladder"))
    heights = []
    for one in places.braces:
        (_, y1), (_, y2), *_ = one
        assert {abs(round(x, 3)) for x, _ in one} == {round(max(x for x, _ in one), 3)}
        heights.append((y1 + y2) / 2)
    hole, radius, scale = places.size.hole, places.size.hole_radius, places.size.scale
    assert heights == sorted(heights)
    assert heights[0] < hole - radius
    assert hole + radius < heights[1] < hole + radius + 25
    assert all(y > scale + 25 for y in heights[2:])


def test_a_fan_spreads_toward_the_tail() -> None:
    bars = Places(NYLON).braces
    struts = [one for one in bars if abs(one[0][1] - one[2][1]) > 2 * abs(one[0][0] - one[2][0])]
    assert len(struts) == 7
    start = [(one[0][0] + one[1][0]) / 2 for one in struts]
    end = [(one[2][0] + one[3][0]) / 2 for one in struts]
    for one, other in pairwise(range(7)):
        assert end[other] - end[one] > start[other] - start[one] > 5


@pytest.mark.parametrize("bracing", ["x", "ladder", "fan"])
@pytest.mark.parametrize("strings", STRINGS)
def test_every_bar_lies_within_the_body(strings: PortraitStrings, bracing: PortraitBracing) -> None:
    size = Places(kind := replace(STEEL, strings=strings, bracing=bracing)).size
    corners = [corner for one in braces(kind, size) for corner in one]
    assert corners
    assert all(abs(x) < size.wide(y) for x, y in corners)


@pytest.mark.parametrize(("bridge", "anchors"), [("pin", 12), ("pinless", 12), ("floating", 12)])
def test_twelve_strings_are_drawn_as_twelve_with_twelve_tuners(
    bridge: PortraitBridge, anchors: int
) -> None:
    places = Places(replace(STEEL, strings="twelve", bridge=bridge))
    assert (
        len(places.fittings.anchors) == len(places.head.ends) == len(places.head.posts) == anchors
    )


def test_what_the_traits_say_can_be_seen() -> None:
    kinds = [
        STEEL,
        replace(STEEL, strings="twelve"),
        replace(STEEL, strings="nylon"),
        replace(STEEL, bridge="pinless"),
        replace(STEEL, bridge="floating"),
        replace(STEEL, bracing="ladder"),
        replace(STEEL, bracing="fan"),
        replace(STEEL, bracing=""),
        replace(STEEL, head="slotted"),
        replace(STEEL, tuners="pegs"),
        replace(STEEL, guard=False),
        replace(STEEL, frets_clear=12),
    ]
    drawn = [str(instrument(kind).body) for kind in kinds]
    assert len(set(drawn)) == len(drawn)


@pytest.mark.parametrize("name", ["flat-top", "twelve-string", "nylon-string"])
def test_every_part_of_a_checklist_has_a_place_or_a_reason(name: str) -> None:
    places = Places(replace(STEEL, guard=False))
    reasons = {}
    for part in shipped(name).parts:
        place = places.of(part)
        if isinstance(place, str):
            reasons[part] = place
        else:
            assert place.front or place.side, part
            assert (place.lane == "right") == (not place.front), part
    assert reasons == UNPLACED


def test_a_part_of_another_checklist_is_told_apart() -> None:
    assert Places(STEEL).of("tone-ring") == ELSEWHERE


@pytest.mark.parametrize("part", [*PLACED, "guard", "tailpiece"])
@pytest.mark.parametrize("portrait", [STEEL, NYLON, replace(STEEL, bridge="floating")])
def test_a_number_points_into_its_part(portrait: Portrait, part: str) -> None:
    place = Places(portrait).of(part)
    if isinstance(place, Place):
        x, y = place.target
        fields = place.side if place.lane == "right" else place.front
        assert any(
            min(x for x, _ in field) - 3 <= x <= max(x for x, _ in field) + 3
            and min(y for _, y in field) - 3 <= y <= max(y for _, y in field) + 3
            for field in fields
        )


@pytest.mark.parametrize("part", PLACED)
def test_a_marked_part_is_hatched_outlined_and_numbered(part: str) -> None:
    bare, seen = (shapes(instrument(one)) for one in (STEEL, marked(STEEL, part)))
    assert not [one for one in bare if WARN in one.attributes.values()]
    warned = [one for one in seen if one.attributes.get("stroke") == WARN]
    assert [one.attributes["d"] for one in warned if one.attributes.get("d", "").endswith("Z")]
    assert [one.attributes["d"] for one in warned if not one.attributes.get("d", "Z").endswith("Z")]
    assert "1" in [one.text for one in seen if one.name == "text"]


def test_two_causes_at_one_part_share_its_place() -> None:
    seen = shapes(instrument(marked(STEEL, "bridge", "neck-joint", "bridge")))
    circles = {
        text.text: circle
        for circle, text in pairwise(seen)
        if circle.name == "circle" and text.name == "text"
    }
    assert circles.keys() == {"1", "2", "3"}
    assert circles["1"].at("cx") == circles["3"].at("cx") != circles["2"].at("cx")
    assert circles["3"].at("cy") - circles["1"].at("cy") == pytest.approx(2 * RADIUS, abs=0.11)


@given(
    targets=st.lists(st.tuples(st.floats(0, 1000), st.integers(1, 3)), max_size=40),
)
def test_circles_of_a_lane_keep_clear_of_each_other_and_in_their_order(
    targets: list[tuple[float, int]],
) -> None:
    pointers = [Pointer(tuple(range(count)), (0.0, y)) for y, count in targets]
    lane = beside(pointers, 20.0, 0.0, 1000.0)
    ys = [y for one in lane for y in one.ys]
    assert len(ys) == sum(count for _, count in targets)
    for one, other in pairwise(ys):
        assert other - one > 2 * lane[0].radius - 1e-6
    assert all(y - lane[0].radius >= -1e-6 and y + lane[0].radius <= 1000 + 1e-6 for y in ys)
    heights = [one.pointer.target[1] for one in lane]
    assert heights == sorted(heights)


def test_what_is_seen_is_said_too() -> None:
    said = instrument(marked(STEEL, "bridge")).text
    for words in ("six steel strings", "bridge with pins", "an X", "14 frets clear"):
        assert words in said
    assert "Number 1, the bridge: Something is wrong at bridge." in said


def test_text_of_a_checklist_is_text() -> None:
    hostile = "</desc><script>alert(1)</script> & ]]> \x00 \u202e"
    mark = PortraitMark(1, "fault", "bridge", hostile, hostile, "likely", "")
    drawing = instrument(replace(STEEL, marks=(mark,)))
    for svg in (drawing.alone(), drawing.inline("one")):
        assert "<script" not in svg
        assert "&lt;script&gt;" in svg
    require_sound(drawing)
