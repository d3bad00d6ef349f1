"""A straight scale with the limits of a check on it: where values lie, and the fields between.

In: `Gauge`s of one check. Out: places from left to right, and the shapes of the band: normal is
plain, what is to be watched has slanted lines, what is outside has crossed ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.report.pictures.labels import letters, spread
from tailblock.report.pictures.svg import (
    CALM,
    INK,
    PAPER,
    SOFT,
    WARN,
    WARN_GROUND,
    WATCH_GROUND,
    element,
    hatch,
    label,
    number,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from markupsafe import Markup

    from tailblock.report.model import Gauge, Zone

_ROOM = 0.15  # of the whole, beyond the outermost limit, value or uncertainty
_SIZE = 9.0  # of the letters of a limit
_APART = 4.0  # between two limits as they are written


@dataclass(frozen=True, slots=True)
class Scale:
    """Values from `start` to `end` [base unit] lie between `left` and `right` [px]."""

    start: float
    end: float
    left: float
    right: float

    def place(self, value: float) -> float:
        """Return where a value lies."""
        share = (value - self.start) / (self.end - self.start)
        return self.left + share * (self.right - self.left)

    def places(self, gauge: Gauge) -> tuple[float, float, float]:
        """Return where a reading lies, and the ends of the bar of its standard uncertainty."""
        low, high = gauge.value - gauge.uncertainty, gauge.value + gauge.uncertainty
        return self.place(gauge.value), self.place(low), self.place(high)


def scale_for(gauges: Sequence[Gauge], left: float, right: float) -> Scale:
    """Return a scale that has room for all limits, values and uncertainties."""
    shown = [
        *(edge for gauge in gauges for edge in gauge.edges),
        *(g.value + way * g.uncertainty for g in gauges for way in (-1, 1)),
    ]
    start, end = min(shown), max(shown)
    room = _ROOM * (end - start) or 1.0
    return Scale(start - room, end + room, left, right)


def band(gauge: Gauge, scale: Scale, top: float, height: float) -> Iterator[Markup]:
    """Yield the fields between the limits, and the limits as upright lines."""
    places = [scale.left, *map(scale.place, gauge.edges), scale.right]
    for zone, (left, right) in zip(gauge.zones, pairwise(places), strict=True):
        yield from field(zone, left, top, right - left, height)
    yield frame(scale.left, top, scale.right - scale.left, height)
    for x in places[1:-1]:
        yield element(
            "line", x1=x, y1=top - 1.5, x2=x, y2=top + height + 1.5, stroke=INK, stroke_width=0.9
        )


def field(zone: Zone, left: float, top: float, width: float, height: float) -> Iterator[Markup]:
    """Yield one field with its hatch."""
    ground = {"normal": CALM, "watch": WATCH_GROUND, "outside": WARN_GROUND}[zone]
    yield element("rect", x=left, y=top, width=width, height=height, fill=ground)
    lines, colour = "", SOFT
    if zone == "watch":
        lines = hatch(left, top, width, height, gap=7)
    elif zone == "outside":
        colour = WARN
        lines = "".join(
            hatch(left, top, width, height, gap=7, falling=falling) for falling in (False, True)
        )
    if lines:
        yield element("path", d=lines, fill="none", stroke=colour, stroke_width=0.6)


def frame(left: float, top: float, width: float, height: float) -> Markup:
    """Return the line around a field."""
    return element(
        "rect", x=left, y=top, width=width, height=height, fill="none", stroke=SOFT,
        stroke_width=0.6,
    )  # fmt: skip


def limits(gauge: Gauge, scale: Scale, above: float, below: float) -> Iterator[Markup]:
    """Yield the limits as they are written: one system of units above the band, one below.

    Where there is no room for all of them, those of the normal band are written.

    Parameters
    ----------
    above, below
        The edges of the band [px] from the top.
    """
    written = [_in_systems(text) for text in gauge.limits]
    for row, edge, way in ((0, above, -1.0), (1, below, 1.0)):
        texts = [one[row] for one in written if row < len(one)]
        if texts:
            yield from _row(gauge, scale, texts, edge, way)


def _row(
    gauge: Gauge, scale: Scale, texts: Sequence[str], edge: float, way: float
) -> Iterator[Markup]:
    """Yield limits in one system of units beside an edge of the band, upward or downward."""
    numbers, unit = _without_unit(texts)
    base = edge - 4.5 if way < 0 else edge + 11.2
    kept = list(zip(map(scale.place, gauge.edges), numbers, strict=True))
    middles = _middles(kept, scale)
    if middles is None:
        kept = [one for one, value in zip(kept, gauge.edges, strict=True) if value in gauge.normal]
        middles = _middles(kept, scale)
    for (place, text), x in zip(kept, middles or [], strict=True):
        yield label(x, base, text, size=_SIZE, anchor="middle")
        if abs(x - place) > 1:
            yield element(
                "line", x1=place, y1=edge + 1.5 * way, x2=x, y2=edge + 4 * way, stroke=SOFT,
                stroke_width=0.5,
            )  # fmt: skip
    yield label(scale.right + 3, base, unit, size=_SIZE, fill=SOFT)


def _middles(placed: Sequence[tuple[float, str]], scale: Scale) -> list[float] | None:
    sizes = [letters(text, _SIZE) + _APART for _, text in placed]
    return spread([place for place, _ in placed], sizes, 0.0, scale.right)


def _without_unit(texts: Sequence[str]) -> tuple[list[str], str]:
    """Return texts without the unit that all of them end with, and that unit."""
    parts = [text.rpartition("\N{NO-BREAK SPACE}") for text in texts]
    units = {unit for number, _, unit in parts if number}
    if len(units) != 1 or not all(number for number, _, _ in parts):
        return list(texts), ""
    return [number for number, _, _ in parts], units.pop()


def systems(gauge: Gauge) -> int:
    """Return in how many systems of units the limits are written."""
    return max(len(_in_systems(text)) for text in gauge.limits)


def _in_systems(text: str) -> list[str]:
    return text.removesuffix(")").split(" (")


def reading(
    at: float, low: float, high: float, y: float, *, filled: bool = False
) -> Iterator[Markup]:
    """Yield the bar of the standard uncertainty and the diamond of the value, at a height."""
    for colour, width in ((PAPER, 4.6), (INK, 2.0)):
        yield element("line", x1=low, y1=y, x2=high, y2=y, stroke=colour, stroke_width=width)
    for x in (low, high):
        yield element("line", x1=x, y1=y - 3, x2=x, y2=y + 3, stroke=INK, stroke_width=1.2)
    yield diamond(at, y, fill=INK if filled else PAPER)


def diamond(x: float, y: float, *, fill: str, half: float = 4.5) -> Markup:
    """Return the mark of a value, its middle at a point."""
    corners = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    points = " ".join(f"{number(left)},{number(top)}" for left, top in corners)
    return element("polygon", points=points, fill=fill, stroke=INK, stroke_width=1.2)
