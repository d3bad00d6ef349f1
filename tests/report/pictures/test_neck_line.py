"""The side view of the neck: every coordinate is read back and held against the formula."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from report.pictures.seen import named, require_sound
from tailblock.report.model import NeckHeight, NeckHeightName, NeckLine
from tailblock.report.pictures.neck_line import COMPENSATION, FACTORS, HEIGHTS, neck_line
from tailblock.report.pictures.svg import WARN

if TYPE_CHECKING:
    from report.pictures.seen import Shape
    from tailblock.report.pictures.picture import Picture

EXACT = 0.11  # px: coordinates are written to a tenth
NAMES = (
    "opening", "relief", "action", "dip", "projection", "exposure", "thickness", "belly",
)  # fmt: skip
LOW = {
    "opening": 0.40, "relief": 0.20, "action": 2.9, "dip": 1.2, "projection": -1.5,
    "exposure": 3.2, "thickness": 8.6, "belly": 3.0,
}  # fmt: skip


def line(heights: dict[str, float], *, scale: float = 648.0, clear: int = 14) -> NeckLine:
    found = tuple(
        NeckHeight(letter, cast("NeckHeightName", name), value, short(value), f"{name}: {value}.")
        for letter, (name, value) in zip("ABCDEFGH", heights.items(), strict=False)
    )
    return NeckLine("steel", scale, clear, found, ("Not read: the weather.",))


def short(value: float) -> str:
    return f"{value:.2f} mm"


def points(shape: Shape) -> list[tuple[float, float]]:
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", shape.attributes["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def bars(picture: Picture) -> list[list[tuple[float, float]]]:
    """Return the lower and the upper end of each height that was read, from nut to tail."""
    drawn = [one for one in named(picture, "path") if one.attributes.get("stroke") == WARN]
    return [points(one)[:2] for one in drawn]


def straightedge(picture: Picture) -> list[tuple[float, float]]:
    (edge,) = [
        one for one in named(picture, "path") if one.attributes.get("stroke-dasharray") == "9 4"
    ]
    return points(edge)


def fret(number: int, scale: float = 648.0) -> float:
    return scale - scale / 2 ** (number / 12)


@pytest.mark.parametrize("clear", [12, 14])
def test_every_height_is_as_long_as_it_was_read_times_the_factor(clear: int) -> None:
    picture = neck_line(line(LOW, clear=clear))
    assert HEIGHTS.format(10) in picture.text
    for (name, value), ((x1, low), (x2, high)) in zip(LOW.items(), bars(picture), strict=True):
        assert x1 == x2
        assert abs(low - high) == pytest.approx(10 * abs(value), abs=EXACT), name


def test_every_height_stands_where_it_is_read() -> None:
    picture = neck_line(line(LOW))
    nut = straightedge(picture)[0][0] - fret(1)
    saddle = nut + 648 + COMPENSATION
    found = {name: bar[0][0] for name, bar in zip(LOW, bars(picture), strict=True)}
    assert found["opening"] == pytest.approx(nut + fret(1), abs=EXACT)
    assert found["relief"] == pytest.approx(nut + (fret(1) + fret(14)) / 2, abs=EXACT)
    assert found["action"] == pytest.approx(nut + fret(12), abs=EXACT)
    assert found["exposure"] == pytest.approx(saddle, abs=EXACT)
    assert found["dip"] < found["projection"] < saddle < found["thickness"] < found["belly"]


@given(
    st.fixed_dictionaries(
        {
            "opening": st.floats(0.1, 1.5),
            "relief": st.floats(-0.5, 1.5),
            "action": st.floats(0.5, 6),
            "dip": st.floats(0, 4),
            "projection": st.floats(-6, 4),
            "exposure": st.floats(0, 8),
            "thickness": st.floats(3, 12),
            "belly": st.floats(-3, 8),
        }
    ),
    st.floats(500, 700),
    st.sampled_from([12, 13, 14]),
)
@settings(max_examples=30)
def test_ends_are_where_the_formulas_put_them(
    read: dict[str, float], scale: float, clear: int
) -> None:
    picture = neck_line(line(read, scale=scale, clear=clear))
    require_sound(picture)
    (factor,) = [one for one in FACTORS if HEIGHTS.format(one) in picture.text]
    (left, zero), (_, also) = straightedge(picture)
    assert zero == also
    nut = left - fret(1, scale)
    ends = {
        name: sorted((zero - y) / factor for _, y in bar)
        for name, bar in zip(read, bars(picture), strict=True)
    }
    exact = 2 * EXACT / factor
    bridge, top = -read["projection"], -read["projection"] - read["thickness"]
    share = (fret(12, scale) - fret(1, scale)) / (fret(clear, scale) - fret(1, scale))
    twelfth = -4 * read["relief"] * share * (1 - share)
    for name, low, high in (
        ("opening", 0.0, read["opening"]),
        ("relief", -read["relief"], 0.0),
        ("action", twelfth, twelfth + read["action"]),
        ("dip", top - read["dip"], top),
        ("projection", bridge, 0.0),
        ("exposure", bridge, bridge + read["exposure"]),
        ("thickness", top, bridge),
        ("belly", top - read["belly"], top),
    ):
        assert ends[name] == pytest.approx(sorted((low, high)), abs=exact), name
    (string,) = [one for one in named(picture, "path") if one.attributes["stroke-width"] == "2"]
    (x1, y1), (x2, y2) = points(string)
    rise = (bridge + read["exposure"] - read["opening"]) / (scale + 2 - fret(1, scale))
    assert (x1, x2) == pytest.approx((nut, nut + scale + 2), abs=EXACT)
    assert (zero - y1) / factor == pytest.approx(read["opening"] - rise * fret(1, scale), abs=exact)
    assert (zero - y2) / factor == pytest.approx(bridge + read["exposure"], abs=exact)


def test_frets_lie_on_the_bow() -> None:
    picture = neck_line(line(LOW | {"relief": 0.5}))
    (left, zero), _ = straightedge(picture)
    ticks = named(picture, "line")
    assert len(ticks) == 14
    chord = fret(14) - fret(1)
    for number, tick in enumerate(ticks, start=1):
        assert tick.at("x1") == pytest.approx(left + fret(number) - fret(1), abs=EXACT)
        off = fret(number) - fret(1) - chord / 2
        # sagitta of a parabola of 0.5 mm over the chord
        drop = 0.5 * (1 - (2 * off / chord) ** 2)
        assert (tick.at("y1") - zero) / 10 == pytest.approx(drop, abs=EXACT / 10)


@pytest.mark.parametrize(
    ("names", "string", "boxes"),
    [
        (("projection", "thickness"), False, 1),
        (("action", "projection", "thickness"), False, 1),
        (("opening", "action", "projection"), True, 0),
        (("action", "projection", "exposure"), True, 1),
        (("opening", "projection", "exposure", "thickness"), True, 2),
    ],
)
def test_what_was_not_read_is_not_drawn(names: tuple[str, ...], string: bool, boxes: int) -> None:
    picture = neck_line(line({name: LOW[name] for name in names}))
    require_sound(picture)
    paths = named(picture, "path")
    assert bool([one for one in paths if one.attributes["stroke-width"] == "2"]) == string
    # bridge and saddle are fields, each with its ground
    assert len([one for one in paths if one.attributes.get("fill", "none") != "none"]) == boxes
    assert len(bars(picture)) == len(names)
    assert "Not read: the weather." in picture.text


def test_every_height_has_its_letter_and_value_and_is_said() -> None:
    picture = neck_line(line(LOW))
    lines = [one.text for one in named(picture, "text")]
    for letter, (name, value) in zip("ABCDEFGH", LOW.items(), strict=True):
        assert f"{letter} {short(value)}" in lines
        assert f"{letter}, {name}: {value}." in picture.text


def test_the_scales_are_as_long_as_they_say() -> None:
    picture = neck_line(line(LOW))
    level, upright = [
        points(one) for one in named(picture, "path") if one.attributes["d"].count("M") == 3
        and one.attributes["stroke"] != WARN
    ]  # fmt: skip
    assert level[1][0] - level[0][0] == pytest.approx(100, abs=EXACT)
    assert upright[0][1] - upright[1][1] == pytest.approx(20, abs=EXACT)


def test_heights_that_would_not_fit_are_drawn_less_large_and_that_is_said() -> None:
    picture = neck_line(line(LOW | {"thickness": 35.0, "belly": 20.0}))
    assert HEIGHTS.format(5) in [one.text for one in named(picture, "text")]
    require_sound(picture)
