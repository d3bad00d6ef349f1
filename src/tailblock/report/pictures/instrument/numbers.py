"""Numbered circles beside a drawing, each tied by a line to the place that it is about.

In: for each lane, where the numbers point. Out: `Numbered`s whose circles keep clear of each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import bar, path
from tailblock.report.pictures.labels import spread
from tailblock.report.pictures.svg import INK, PAPER, WARN, element, group, label

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markupsafe import Markup

    from tailblock.report.pictures.instrument.curves import Point

RADIUS = 19.0
_GAP = 5.0  # between two circles of a lane; those of one place touch
_DIGITS = 24.0  # their size


@dataclass(frozen=True, slots=True)
class Pointer:
    """The numbers that point at one place, and the place."""

    numbers: tuple[int, ...]
    target: Point


@dataclass(frozen=True, slots=True)
class Numbered:
    """Circles one above the other about `x`, at `ys`, with their numbers and the place."""

    x: float
    ys: tuple[float, ...]
    radius: float
    pointer: Pointer


def beside(
    pointers: Sequence[Pointer], x: float, top: float, bottom: float
) -> tuple[Numbered, ...]:
    """Return the circles of one lane, each as near to the height of its place as there is room.

    Parameters
    ----------
    x
        The middle of the lane.
    top, bottom
        Where it begins and ends. If there are too many for it the circles get smaller.
    """
    ordered = sorted(pointers, key=lambda one: (one.target[1], one.numbers))
    count = sum(len(one.numbers) for one in ordered)
    if not count:
        return ()
    radius = min(RADIUS, (bottom - top) / (2 * count) - _GAP / 2)
    tall = [2 * radius * len(one.numbers) + _GAP for one in ordered]
    wished = [one.target[1] for one in ordered]
    middles = spread(wished, tall, top - _GAP / 2, bottom + _GAP / 2) or wished
    return tuple(
        Numbered(
            x,
            tuple(
                middle + radius * (2 * place + 1 - len(one.numbers))
                for place in range(len(one.numbers))
            ),
            radius,
            one,
        )
        for one, middle in zip(ordered, middles, strict=True)
    )


def drawn(numbered: Numbered) -> Markup:
    """Return the circles, their numbers and the line to the place."""
    x, radius = numbered.x, numbered.radius
    to_x, to_y = numbered.pointer.target
    nearest = min(numbered.ys, key=lambda y: (abs(y - to_y), y))
    edge = x - radius if to_x < x else x + radius
    line = ((edge, nearest), (to_x, to_y))
    parts = [
        element("path", d=path(bar(*line, 5)), fill=PAPER),  # so that it stands out from a hatch
        element("circle", cx=to_x, cy=to_y, r=6, fill=PAPER),
        element("path", d=path(line, closed=False), stroke=INK, stroke_width=1.8),
        element("circle", cx=to_x, cy=to_y, r=4.5, fill=INK),
    ]
    for number, y in zip(numbered.pointer.numbers, numbered.ys, strict=True):
        size = _DIGITS * radius / RADIUS
        parts += [
            element("circle", cx=x, cy=y, r=radius - 1.5, fill=PAPER, stroke=WARN, stroke_width=3),
            label(x, y + 0.35 * size, str(number), size=size, anchor="middle", bold=True),
        ]
    return group(parts)
