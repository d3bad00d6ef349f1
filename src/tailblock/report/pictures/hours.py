"""The hours of many jobs as bars, with the hours that are enough for a share of them.

In: `HoursOfWork`. Out: a `Picture`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.svg import CALM, CALM_EDGE, INK, SOFT, WARN, element, group, label
from tailblock.report.wording import about_hours, percent

if TYPE_CHECKING:
    from collections.abc import Iterator

    from markupsafe import Markup

    from tailblock.report.model import Enough, HoursOfWork

WIDTH, HEIGHT = 480.0, 156.0
LEFT, RIGHT = (
    12.0,
    80.0,
)  # of free room beside the bars: on the right for a text
TOP, FLOOR = 46.0, 124.0  # of the tallest bar
_SIZE = 11.0
_ROW = 13.0  # from one line of text to the next
_TICKS = 8  # at most so many hours are written below the bars


def hours_picture(found: HoursOfWork) -> Picture:
    """Return the picture of the hours of an option."""
    return Picture(
        kind="hours",
        title=_("Hours of many such jobs"),
        text=found.picture,
        width=WIDTH,
        height=HEIGHT,
        body=group((*_bars(found), *_axis(found), *_marks(found))),
    )


def place(found: HoursOfWork, hours: float) -> float:
    """Return where hours lie from left to right."""
    first, last = found.edges[0], found.edges[-1]
    return LEFT + (hours - first) / (last - first) * (WIDTH - LEFT - RIGHT)


def _bars(found: HoursOfWork) -> Iterator[Markup]:
    tallest = max(found.counts)
    for (low, high), count in zip(pairwise(found.edges), found.counts, strict=True):
        tall = count / tallest * (FLOOR - TOP)
        left = place(found, low)
        yield element(
            "rect",
            x=left,
            y=FLOOR - tall,
            width=place(found, high) - left,
            height=tall,
            fill=CALM,
            stroke=CALM_EDGE,
            stroke_width=0.8,
        )


def _axis(found: HoursOfWork) -> Iterator[Markup]:
    yield element("line", x1=0, y1=FLOOR, x2=WIDTH, y2=FLOOR, stroke=INK, stroke_width=1)
    step = -(-len(found.counts) // _TICKS)
    for edge in found.edges[::step]:
        yield label(place(found, edge), FLOOR + 14, f"{edge:g}", size=_SIZE, anchor="middle")
    yield label(WIDTH / 2, FLOOR + 27, "hours", size=_SIZE, anchor="middle", fill=SOFT)


def _marks(found: HoursOfWork) -> Iterator[Markup]:
    """Yield the marks, the fewest hours in the top row: no line runs through words then."""
    for row, one in enumerate(found.enough):
        x, top = place(found, one.hours), 6 + _ROW * row
        yield element(
            "line",
            x1=x,
            y1=top,
            x2=x,
            y2=FLOOR,
            stroke=WARN,
            stroke_width=1,
            stroke_dasharray="3 2",
        )
        yield label(x + 3, top - 3 + _ROW / 2, _said(one), size=_SIZE, fill=WARN)


def _said(one: Enough) -> str:
    return f"{percent(one.share)}: {about_hours(one.hours)}"
