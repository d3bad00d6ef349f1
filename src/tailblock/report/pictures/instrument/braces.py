"""The bars under the top, as one would see them through it.

In: a `Portrait` and its `Size`. Out: straight bars in mm, and the plate under the bridge. Patterns
are those of the trade at large (common practice, no source): an X crosses just below the soundhole
and its legs pass under the ends of the bridge; ladder bars lie straight across; a fan spreads from
the neck toward the tail between two bars at the soundhole and two that close it.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import bar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon
    from tailblock.report.pictures.instrument.size import Size

Bar = tuple["Point", "Point", float]  # from, to, width
_LEG = 47.0  # degrees between a leg of the X and the middle line
_RISE = 0.42  # of the bars that close a fan, toward the sides
_FAR = 600.0  # farther than any edge


def braces(portrait: Portrait, size: Size) -> tuple[Polygon, ...]:
    """Return the bars under the top, none if nobody knows how it is braced."""
    patterns = {"x": _crossed, "ladder": _ladder, "fan": _fan}
    pattern = patterns.get(portrait.bracing)
    bars = pattern(size) if pattern else ()
    return tuple(bar(start, end, wide) for start, end, wide in bars)


def plate(portrait: Portrait, size: Size) -> Polygon:
    """Return the plate under the bridge."""
    front, back, wide = size.scale - 14, size.scale + 34, size.grown * 62
    if portrait.strings == "nylon":
        return ((-wide, front + 6), (wide, front + 6), (wide, back - 8), (-wide, back - 8))
    slant = 16 if portrait.bracing == "x" else 0
    return (
        (slant - wide, front),
        (wide - slant, front),
        (wide + slant, back),
        (-wide - slant, back),
    )


def crossing(size: Size) -> float:
    """Return where the legs of an X cross."""
    return size.hole + size.hole_radius + 28 * size.grown


def _crossed(size: Size) -> Iterator[Bar]:
    grown, cross = size.grown, crossing(size)
    middle = (0.0, cross)
    lean = (sin(radians(_LEG)), cos(radians(_LEG)))

    def along(side: int, far: float) -> Point:
        return (side * lean[0] * far, cross + lean[1] * far)

    yield _across(size, size.hole - size.hole_radius - 16 * grown, 12)
    for side in (-1, 1):
        yield (size.reach(middle, along(side, -_FAR)), size.reach(middle, along(side, _FAR)), 8)
    for far, drop in ((112, 0.47), (182, 0.5)):  # two tone bars, from the treble leg to the bass
        start = along(1, far * grown)
        yield (start, size.reach(start, (start[0] - _FAR, start[1] + drop * _FAR)), 7)
    for side in (-1, 1):
        for far, drop in ((70, -0.16), (118, 0.18)):  # two finger braces on either side
            start = along(side, far * grown)
            yield (start, size.reach(start, (start[0] + side * _FAR, start[1] + drop * _FAR)), 6)


def _ladder(size: Size) -> Iterator[Bar]:
    grown, hole, radius = size.grown, size.hole, size.hole_radius
    for y, wide in (
        (hole - radius - 16 * grown, 9),
        (hole + radius + 12 * grown, 9),
        (size.scale + 52 * grown, 9),
        (size.scale + 118 * grown, 8),
    ):
        if y < size.tail - 20 * grown:
            yield _across(size, y, wide)


def _fan(size: Size) -> Iterator[Bar]:
    grown, radius = size.grown, size.hole_radius
    above, below = size.hole - radius - 16 * grown, size.hole + radius + 14 * grown
    yield _across(size, above, 11)
    yield _across(size, below, 11)
    apex, foot = size.body - 0.02 * size.scale, size.tail - 30 * grown
    for number in range(-3, 4):
        slope = 0.108 * number
        start = (slope * (below + 9 * grown - apex), below + 9 * grown)
        rise = _RISE * abs(slope)  # of the closing bar, for each mm along the strut
        y = (foot + rise * apex) / (1 + rise) - 7 * grown
        yield (start, size.reach(start, (slope * (y - apex), y)), 5)
    for side in (-1, 1):
        start = (side * 5.0, foot)
        yield (start, size.reach(start, (side * _FAR, foot - _RISE * _FAR)), 5)


def _across(size: Size, y: float, wide: float) -> Bar:
    middle = (0.0, y)
    return (size.reach(middle, (-_FAR, y)), size.reach(middle, (_FAR, y)), wide)
