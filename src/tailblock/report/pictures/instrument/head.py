"""The head of the neck with its tuners, from the front and from the side.

In: a `Portrait` and its `Size`. Out: polygons in mm. Seen from the front the head is drawn in its
full length; from the side it leans back.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import bar, bezier, box, circle, mirrored

if TYPE_CHECKING:
    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon
    from tailblock.report.pictures.instrument.size import Size

LEAN = radians(14)  # of the head, common practice
THICK = 15.0


@dataclass(frozen=True, slots=True)
class Head:
    """The head from the front: its outline, its slots, its posts or rollers, its knobs.

    `ends` is where each string leaves for the nut, from the last string to the first.
    """

    outline: Polygon
    slots: tuple[Polygon, ...]
    posts: tuple[Polygon, ...]
    knobs: tuple[Polygon, ...]
    ends: tuple[Point, ...]


def head(portrait: Portrait, size: Size) -> Head:
    """Return the head from the front."""
    long, wide = size.kind.head * size.grown, size.kind.head_wide
    rows = _rows(portrait, size)
    posts: list[Polygon] = []
    knobs: list[Polygon] = []
    bass: list[Point] = []
    treble: list[Point] = []
    slotted = portrait.head == "slotted"
    at = 0.5 * wide if slotted else 0.58 * wide
    for y in rows:
        for side, ends in ((-1, bass), (1, treble)):
            if slotted:
                posts.append(box(side * at - 8, y - 3.5, side * at + 8, y + 3.5))
            elif portrait.tuners == "pegs":
                posts.append(circle(side * at, y, 6))
            else:
                posts.append(circle(side * at, y, 4.5))
            if portrait.tuners == "geared" and not slotted:
                knobs.append(_knob(side, wide, y))
            ends.append((side * at, y))
    if portrait.tuners == "geared" and slotted:  # their knobs point backward, behind the plates
        knobs = [
            box(side * wide - 2.5, rows[-1] - 10, side * wide + 2.5, rows[0] + 10)
            for side in (-1, 1)
        ]
    # the outer strings go to the posts next to the nut
    return Head(
        outline=mirrored(
            (
                (0.0, -long + 4),
                *bezier(
                    (0.0, -long + 4), (0.4 * wide, -long + 4), (0.7 * wide, -long), (wide, -long)
                ),
                (wide - 2.5, -34.0),
                *bezier(
                    (wide - 2.5, -34.0),
                    (wide - 3.5, -18.0),
                    (size.kind.nut, -18.0),
                    (size.kind.nut, -5.0),
                    steps=6,
                ),
            )
        ),
        slots=tuple(
            box(side * at - 7.5, rows[-1] - 14, side * at + 7.5, rows[0] + 14)
            for side in ((-1, 1) if slotted else ())
        ),
        posts=tuple(posts),
        knobs=tuple(knobs),
        ends=(*bass, *reversed(treble)),
    )


def _rows(portrait: Portrait, size: Size) -> tuple[float, ...]:
    """Return where the tuners of one side lie, the one nearest to the nut first."""
    long = size.kind.head * size.grown
    number = 6 if portrait.strings == "twelve" else 3
    first, last = -0.29 * long, -0.80 * long
    if portrait.strings == "twelve":
        first, last = -0.22 * long, -0.87 * long
    return tuple(first + (last - first) * row / (number - 1) for row in range(number))


def _knob(side: int, wide: float, y: float) -> Polygon:
    """Return a knob with its shaft, beside the head."""
    near, far = side * (wide + 5), side * (wide + 18)
    return (
        (side * (wide - 3), y - 1.5),
        (near, y - 1.5),
        (near, y - 6),
        (far - side * 3, y - 8),
        (far, y - 4),
        (far, y + 4),
        (far - side * 3, y + 8),
        (near, y + 6),
        (near, y + 1.5),
        (side * (wide - 3), y + 1.5),
    )


def leaning(along: float, behind: float) -> Point:
    """Return where a place of the head lies from the side.

    Parameters
    ----------
    along
        From the nut toward the end of the head.
    behind
        From the front face toward the back.
    """
    return (
        FACE + along * sin(LEAN) + behind * cos(LEAN),
        -5 - along * cos(LEAN) + behind * sin(LEAN),
    )


FACE = -6.0  # the front of the head at the nut, before the plane of the top


def head_aside(size: Size) -> Polygon:
    """Return the head from the side."""
    long = size.kind.head * size.grown
    return (leaning(0, 0), leaning(long, 0), leaning(long, THICK), leaning(22, THICK))


def tuners_aside(portrait: Portrait, size: Size) -> tuple[Polygon, ...]:
    """Return what is seen of the tuners from the side: knobs, or the ends of pegs."""
    rows = _rows(portrait, size)
    if portrait.tuners == "geared" and portrait.head == "solid":
        return tuple(circle(*leaning(-y, THICK - 2), 7) for y in rows)
    low, high = (THICK - 1, THICK + 17) if portrait.tuners == "pegs" else (THICK / 2, THICK + 13)
    found = [bar(leaning(-y, low), leaning(-y, high), 8) for y in rows]
    if portrait.tuners == "geared":
        found.append(bar(leaning(10 - rows[-1], 6), leaning(-10 - rows[0], 6), 6))
    return tuple(found)
