"""The hours of many jobs as bars: the coordinates of a small picture.

In: `HoursOfWork`. Out: a `Histogram` in the units of its own little coordinate system; a renderer
draws it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.report.wording import about_hours, percent

if TYPE_CHECKING:
    from tailblock.report.model import HoursOfWork

WIDTH, HEIGHT = 480.0, 150.0
_LEFT, _RIGHT, _TOP, _FLOOR = 12.0, 12.0, 44.0, 122.0
_TICKS = 8  # at most so many hours are written below the bars


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its left edge, top, width and height."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the axis with its text; `row` counts the lines of text from the top."""

    x: float
    text: str
    row: int = 0


@dataclass(frozen=True, slots=True)
class Histogram:
    """Bars from left to right, the hours below them, the quantiles above; `floor` is the axis."""

    bars: tuple[Bar, ...]
    ticks: tuple[Mark, ...]
    marks: tuple[Mark, ...]
    floor: float


def histogram(found: HoursOfWork) -> Histogram:
    """Return the picture of the hours of an option."""
    first, last = found.edges[0], found.edges[-1]
    tallest = max(found.counts)

    def place(value: float) -> float:
        return round(_LEFT + (value - first) / (last - first) * (WIDTH - _LEFT - _RIGHT), 1)

    bars = []
    for (low, high), count in zip(pairwise(found.edges), found.counts, strict=True):
        tall = round(count / tallest * (_FLOOR - _TOP), 1)
        width = round(place(high) - place(low), 1)
        bars.append(Bar(place(low), round(_FLOOR - tall, 1), width, tall))
    step = -(-len(found.counts) // _TICKS)
    return Histogram(
        bars=tuple(bars),
        ticks=tuple(Mark(place(edge), f"{edge:g}") for edge in found.edges[::step]),
        marks=tuple(
            Mark(place(one.hours), f"{percent(one.share)}: {about_hours(one.hours)}", row)
            for row, one in enumerate(found.enough)
        ),
        floor=_FLOOR,
    )
