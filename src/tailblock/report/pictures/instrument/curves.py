"""Plane geometry of the drawing: smooth curves as polygons, and what is cut off at their edge.

In: points in mm. Out: points, hatches, paths. A polygon is a sequence of corners, closed by itself.
"""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from typing import TYPE_CHECKING

from tailblock.report.pictures.svg import number

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Point = tuple[float, float]
Polygon = tuple[Point, ...]


def bezier(start: Point, first: Point, second: Point, end: Point, *, steps: int = 14) -> Polygon:
    """Return points along a cubic curve, its start left out and its end among them.

    Source: the cubic polynomial of Bernstein.

    >>> bezier((0, 0), (0, 1), (1, 1), (1, 0), steps=2)
    ((0.5, 0.75), (1.0, 0.0))
    """

    def at(t: float) -> Point:
        shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        points = (start, first, second, end)
        x = sum(share * point[0] for share, point in zip(shares, points, strict=True))
        y = sum(share * point[1] for share, point in zip(shares, points, strict=True))
        return (x, y)

    return tuple(at(step / steps) for step in range(1, steps + 1))


def mirrored(half: Sequence[Point]) -> Polygon:
    """Return an outline from its right half, which runs from the upper to the lower end.

    >>> mirrored([(0, 0), (2, 1), (0, 2)])
    ((0, 0), (2, 1), (0, 2), (-2, 1))
    """
    left = [(-x, y) for x, y in reversed(half) if x]
    return (*half, *left)


def circle(x: float, y: float, radius: float) -> Polygon:
    """Return a circle as a polygon of 24 corners, going round from its right end."""
    bow = 0.5523 * radius  # the handles with which four cubic curves come nearest to a circle
    right, below, left, above = (x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)
    return (
        *bezier(right, (x + radius, y + bow), (x + bow, y + radius), below, steps=6),
        *bezier(below, (x - bow, y + radius), (x - radius, y + bow), left, steps=6),
        *bezier(left, (x - radius, y - bow), (x - bow, y - radius), above, steps=6),
        *bezier(above, (x + bow, y - radius), (x + radius, y - bow), right, steps=6),
    )


def box(left: float, top: float, right: float, bottom: float) -> Polygon:
    """Return a rectangle."""
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def bar(start: Point, end: Point, width: float) -> Polygon:
    """Return a straight bar between two points.

    >>> bar((0, 0), (0, 10), 2)
    ((-1.0, 0.0), (1.0, 0.0), (1.0, 10.0), (-1.0, 10.0))
    """
    (x1, y1), (x2, y2) = start, end
    long = hypot(x2 - x1, y2 - y1)
    across, up = width / 2 * (y2 - y1) / long, width / 2 * (x2 - x1) / long
    return (
        (x1 - across, y1 + up),
        (x1 + across, y1 - up),
        (x2 + across, y2 - up),
        (x2 - across, y2 + up),
    )


def moved(polygon: Iterable[Point], dx: float, dy: float) -> Polygon:
    """Return a polygon at another place."""
    return tuple((x + dx, y + dy) for x, y in polygon)


def path(polygon: Sequence[Point], *, closed: bool = True) -> str:
    """Return the data of a path through points.

    >>> path([(0, 0), (10, 0), (10, 5)])
    'M0 0L10 0L10 5Z'
    """
    drawn = "L".join(f"{number(x)} {number(y)}" for x, y in polygon)
    return f"M{drawn}{'Z' if closed else ''}"


def hatched(polygon: Sequence[Point], *, gap: float) -> str:
    """Return lines that rise at 45 degrees and fill a polygon, as the data of a path.

    >>> hatched(box(0, 0, 10, 10), gap=8)
    'M0 8L8 0M6 10L10 6'
    """
    sides = tuple(pairwise((*polygon, polygon[0])))
    sums = [x + y for x, y in polygon]  # the same all along a rising line
    lines = []
    line = gap * (min(sums) // gap + 1)
    while line < max(sums):
        cuts = sorted(cut for side in sides if (cut := _cut(side, line)) is not None)
        lines += [
            f"M{number(low)} {number(line - low)}L{number(high)} {number(line - high)}"
            for low, high in zip(cuts[::2], cuts[1::2], strict=True)
            if high - low > 1
        ]
        line += gap
    return "".join(lines)


def _cut(side: tuple[Point, Point], line: float) -> float | None:
    """Return where a side crosses x + y = line; its upper end counts, its lower does not."""
    (x1, y1), (x2, y2) = side
    before, after = x1 + y1 - line, x2 + y2 - line
    if (before < 0) == (after < 0):
        return None
    return x1 + (x2 - x1) * before / (before - after)
