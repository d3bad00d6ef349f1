"""A reading of two visits: both lie on one scale, and an arrow and a word say which way it went."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from report.pictures.made import gauge, gauges
from report.pictures.seen import named, require_sound, shapes
from tailblock.report.model import Compared, Gauge
from tailblock.report.pictures.change import WORDS, change_picture

if TYPE_CHECKING:
    from report.pictures.seen import Shape
    from tailblock.report.pictures.picture import Picture

EDGES = (1.5, 1.9, 2.7, 3.2, 4.0)


def compared(before: Gauge, after: Gauge, way: str = "better", check: str = "Action") -> Compared:
    return Compared(
        id="action",
        check=check,
        setup="strings at pitch",
        before="3.60 mm (9/64 in), very high",
        after="2.40 mm (3/32 in), normal",
        change="-1.20 mm ± 0.19 mm",
        way=way,
        outside=False,
        settling="",
        value_before=before.value,
        value_after=after.value,
        uncertainty=0.19,
        gauges=(before, after),
    )


def drawn(one: Compared) -> Picture:
    picture = change_picture(one)
    assert picture is not None
    return picture


def marks(picture: Picture) -> tuple[Shape, Shape]:
    """Return the diamonds of the earlier and of the later reading."""
    before, after = (
        one for one in named(picture, "polygon") if one.attributes["stroke-width"] == "1.2"
    )
    return before, after


def heads(picture: Picture) -> list[Shape]:
    return [one for one in named(picture, "polygon") if one.attributes["stroke-width"] == "0.6"]


@given(gauges(), st.integers(-3_000, 70_000), st.integers(0, 500))
def test_both_readings_lie_on_the_scale_of_their_limits(
    before: Gauge, hundredths: int, u: int
) -> None:
    after = replace(before, value=hundredths / 100, uncertainty=u / 100)
    picture = drawn(compared(before, after))
    require_sound(picture)
    uprights = [
        one for one in named(picture, "line") if one.box[3] - one.box[1] > 26 and one.box[0] > 0
    ]
    limits = dict(zip(before.edges, (one.middle for one in uprights), strict=False))
    old, new = marks(picture)
    placed = {**limits, before.value: old.middle, after.value: new.middle}
    start, end = min(placed), max(placed)
    if end == start:
        return
    scale = (placed[end] - placed[start]) / (end - start)
    for value, x in placed.items():
        assert x == pytest.approx(placed[start] + scale * (value - start), abs=0.16)


def test_the_later_mark_is_filled_and_lies_below_the_earlier() -> None:
    old, new = marks(drawn(compared(gauge(3.6, 0.1, EDGES, 2), gauge(2.4, 0.1, EDGES, 2))))
    assert old.attributes["fill"] == "#ffffff"
    assert new.attributes["fill"] != old.attributes["fill"]
    assert new.box[1] > old.box[3]


@pytest.mark.parametrize(("before", "after"), [(3.6, 2.4), (2.4, 3.6)])
def test_the_arrow_points_at_the_later_reading(before: float, after: float) -> None:
    picture = drawn(compared(gauge(before, 0.1, EDGES, 2), gauge(after, 0.1, EDGES, 2)))
    old, new = marks(picture)
    (head,) = heads(picture)
    assert abs(head.middle - new.middle) < abs(head.middle - old.middle)
    low, high = sorted((old.middle, new.middle))
    assert low < head.middle < high


@pytest.mark.parametrize("way", list(WORDS))
def test_the_way_is_a_word_and_only_what_moved_has_an_arrow(way: str) -> None:
    picture = drawn(compared(gauge(3.6, 0.1, EDGES, 2), gauge(3.5, 0.1, EDGES, 2), way))
    assert WORDS[way] in [one.text for one in named(picture, "text")]
    assert bool(heads(picture)) == (way != "same")
    assert WORDS[way].capitalize() in picture.text


def test_in_words_it_says_both_readings_and_the_change() -> None:
    one = compared(gauge(3.6, 0.1, EDGES, 2), gauge(2.4, 0.1, EDGES, 2))
    for said in (one.before, one.after, one.change):
        assert said in drawn(one).text


def test_a_hostile_title_is_text() -> None:
    same = gauge(3.6, 0.1, EDGES, 2)
    picture = drawn(compared(same, same, check="</title><script>alert(1)</script>"))
    assert "<script" not in str(picture.inline("picture-1"))
    assert shapes(picture)


def test_an_answer_in_words_has_none() -> None:
    same = gauge(3.6, 0.1, EDGES, 2)
    assert change_picture(replace(compared(same, same), gauges=None)) is None
