"""The picture of a reliability table: every row is where it says."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from tailblock.measures.scoring import Forecast, reliability_table
from tailblock.report.reliability import to_svg

SVG = "{http://www.w3.org/2000/svg}"
FORECASTS: list[Forecast] = [(0.1, False)] * 9 + [(0.1, True)] + [(0.9, True)] * 3 + [(0.9, False)]


def drawn(forecasts: list[Forecast]) -> ET.Element:
    picture = to_svg(reliability_table(forecasts) if forecasts else ())
    return ET.fromstring(picture)  # noqa: S314  (our own)


def test_a_dot_stands_where_said_and_seen_meet() -> None:
    picture = drawn(FORECASTS)
    square = next(r for r in picture.iter(f"{SVG}rect") if r.get("class") == "frame")
    left, top, side = (float(square.get(name, "")) for name in ("x", "y", "width"))
    places = [
        ((float(c.get("cx", "")) - left) / side, 1 - (float(c.get("cy", "")) - top) / side)
        for c in picture.iter(f"{SVG}circle")
    ]
    assert places == [pytest.approx((0.1, 0.1), abs=1e-3), pytest.approx((0.9, 0.75), abs=1e-3)]


def test_it_is_told_in_words_as_well() -> None:
    described = drawn(FORECASTS).findtext(f"{SVG}desc")
    assert described == "said 10 %, there 10 % of 10; said 90 %, there 75 % of 4"
    counts = [t.text for t in drawn(FORECASTS).iter(f"{SVG}text") if t.get("class") == "count"]
    assert counts == ["10", "4"]


def test_bars_stay_within_the_square_and_nothing_confirmed_is_an_empty_one() -> None:
    bars = [
        p.get("d", "") for p in drawn([(0.02, True)]).iter(f"{SVG}path") if p.get("class") == "bar"
    ]
    assert len(bars) == 1
    assert "464.0" in bars[0]  # the floor of the square
    assert drawn([]).findtext(f"{SVG}desc") == "nothing was confirmed yet"
