"""The picture of the hours: bars and marks stand where their numbers are."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from report.pictures.seen import named, require_sound
from tailblock.report.model import Enough
from tailblock.report.pictures.hours import FLOOR, TOP, hours_picture

if TYPE_CHECKING:
    from tailblock.report.model import HoursOfWork, Report


@pytest.fixture
def found(hot_car: Report) -> HoursOfWork:
    assert hot_car.hours is not None
    return hot_car.hours


def test_the_bars_stand_on_the_axis_side_by_side_and_are_as_tall_as_their_counts(
    found: HoursOfWork,
) -> None:
    bars = named(hours_picture(found), "rect")
    assert len(bars) == len(found.counts)
    for bar, count in zip(bars, found.counts, strict=True):
        assert bar.box[3] == pytest.approx(FLOOR, abs=0.1)
        share = bar.at("height") / (FLOOR - TOP)
        assert share == pytest.approx(count / max(found.counts), abs=0.002)
    for bar, following in pairwise(bars):
        assert bar.box[2] == pytest.approx(following.box[0], abs=0.21)


@pytest.mark.parametrize("bar", [0, 3, -1])
def test_a_mark_stands_where_its_hours_are(found: HoursOfWork, bar: int) -> None:
    marked = replace(found, enough=(Enough(0.5, found.edges[bar], 0.1),))
    _, mark = named(hours_picture(marked), "line")
    bars = named(hours_picture(marked), "rect")
    edges = [*(one.box[0] for one in bars), bars[-1].box[2]]
    assert mark.middle == pytest.approx(edges[bar], abs=0.15)
    require_sound(hours_picture(marked))


def test_the_shares_are_written_at_their_marks(found: HoursOfWork) -> None:
    picture = hours_picture(found)
    texts = [shape.text.replace("\N{NO-BREAK SPACE}", " ") for shape in named(picture, "text")]
    assert [text.split(":")[0] for text in texts if "%" in text] == ["50 %", "80 %", "95 %"]
    require_sound(picture)
