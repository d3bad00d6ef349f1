"""What stands on the top: bridge, saddle, pins or ties, tailpiece, pickguard.

In: a `Portrait` and its `Size`. Out: polygons in mm, from the front.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import bezier, box, circle

if TYPE_CHECKING:
    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon
    from tailblock.report.pictures.instrument.size import Size

_PINS, _SECOND, _HOLES, _TIES = 15.0, 9.0, 21.0, 14.0  # behind the saddle
STRINGS = 6
_COURSE = 0.05  # between the two strings of a course, as a share of half the spread


@dataclass(frozen=True, slots=True)
class Fittings:
    """The bridge and what belongs to it.

    `block` is the block that nylon strings are tied to; `ends` are pins, holes or ties;
    `anchors` is where each string ends, from the last to the first. What is not there is empty.
    """

    bridge: Polygon
    saddle: Polygon
    block: Polygon
    ends: tuple[Polygon, ...]
    tailpiece: Polygon
    anchors: tuple[Point, ...]


def courses(portrait: Portrait) -> tuple[float, ...]:
    """Return each string's share of half the spread, from the last string to the first."""
    single = tuple(-1 + 2 * string / (STRINGS - 1) for string in range(STRINGS))
    if portrait.strings != "twelve":
        return single
    inner = 1 - _COURSE
    return tuple(inner * share + side * _COURSE for share in single for side in (-1, 1))


def fittings(portrait: Portrait, size: Size) -> Fittings:
    """Return the bridge of an instrument with what belongs to it."""
    shares = courses(portrait)
    slant = 10 + size.kind.spread
    saddle = (
        (-slant, size.saddle(-slant) - 1.5),
        (slant, size.saddle(slant) - 1.5),
        (slant, size.saddle(slant) + 1.5),
        (-slant, size.saddle(-slant) + 1.5),
    )
    if portrait.bridge == "floating":
        return _floating(size, shares, saddle)
    if portrait.bridge == "pinless" and portrait.strings == "nylon":
        return _tied(size, shares, saddle)
    return _glued(portrait, size, shares, saddle)


def _glued(portrait: Portrait, size: Size, shares: tuple[float, ...], saddle: Polygon) -> Fittings:
    """Return a bridge with pins, or with strings that come out of its back edge."""
    wide, deep = 77 * size.grown, 28 if portrait.strings == "twelve" else 24
    front, back = size.scale - 8, size.scale + deep
    pinned = portrait.bridge == "pin"
    anchors, ends = [], []
    for string, share in enumerate(shares):
        second = _SECOND if portrait.strings == "twelve" and string % 2 else 0
        y = size.scale + (_PINS + second - 3 if pinned else _HOLES)
        x = size.string(share, y)
        anchors.append((x, y))
        ends.append(
            circle(x, y, 3.2 if second or len(shares) < 12 else 2.8)
            if pinned
            else box(x - 1.6, y - 2, x + 1.6, back)
        )
    bridge = (
        (-0.55 * wide, front),
        (0.55 * wide, front),
        *bezier(
            (0.55 * wide, front), (0.8 * wide, front), (wide, front + 3), (wide, front + 8), steps=6
        ),
        *bezier(
            (wide, front + 8), (wide, back - 5), (0.8 * wide, back - 6), (0.5 * wide, back), steps=8
        ),
        *bezier(
            (0.5 * wide, back),
            (0.2 * wide, back + 2),
            (-0.2 * wide, back + 2),
            (-0.5 * wide, back),
            steps=6,
        ),
        *bezier(
            (-0.5 * wide, back),
            (-0.8 * wide, back - 6),
            (-wide, back - 5),
            (-wide, front + 8),
            steps=8,
        ),
        *bezier(
            (-wide, front + 8),
            (-wide, front + 3),
            (-0.8 * wide, front),
            (-0.55 * wide, front),
            steps=6,
        ),
    )
    return Fittings(bridge, saddle, (), tuple(ends), (), tuple(anchors))


def _tied(size: Size, shares: tuple[float, ...], saddle: Polygon) -> Fittings:
    """Return a bridge whose strings are tied to a block behind the saddle."""
    wide, front, back = 94 * size.grown, size.scale - 7, size.scale + 22
    half = size.kind.spread + 12
    anchors = tuple((size.string(share, size.scale), size.scale + _TIES - 5) for share in shares)
    return Fittings(
        bridge=(
            (-half, front), (half, front), (half, front + 3), (wide, front + 3),
            (wide, back - 3), (half, back - 3), (half, back), (-half, back),
            (-half, back - 3), (-wide, back - 3), (-wide, front + 3), (-half, front + 3),
        ),
        saddle=saddle,
        block=box(-half, size.scale + _TIES - 5, half, back),
        ends=tuple(box(x - 2.5, y, x + 2.5, back) for x, y in anchors),
        tailpiece=(),
        anchors=anchors,
    )  # fmt: skip


def _floating(size: Size, shares: tuple[float, ...], saddle: Polygon) -> Fittings:
    """Return a loose bridge, and the tailpiece that holds the strings."""
    wide, top = 62 * size.grown, size.scale + 62 * size.grown
    anchors = tuple((0.85 * size.string(share, size.scale), top + 6) for share in shares)
    return Fittings(
        bridge=(
            (-wide, size.scale - 6), (wide, size.scale - 6), (wide + 6, size.scale + 3),
            (wide, size.scale + 12), (-wide, size.scale + 12), (-wide - 6, size.scale + 3),
        ),
        saddle=saddle,
        block=(),
        ends=tuple(circle(x, y, 2.4) for x, y in anchors),
        tailpiece=((-36, top), (36, top), (30, top + 16), (9, size.tail - 4), (9, size.tail + 5),
                   (-9, size.tail + 5), (-9, size.tail - 4), (-30, top + 16)),
        anchors=anchors,
    )  # fmt: skip


def guard(size: Size) -> Polygon:
    """Return a pickguard, on the treble side of the soundhole."""
    radius, hole, grown = size.hole_radius + 5, size.hole, size.grown
    right = radius + 46 * grown
    low = hole + radius + 44 * grown
    return (
        (0.55 * radius, hole - 0.835 * radius),
        *bezier(
            (0.55 * radius, hole - 0.835 * radius),
            (1.0 * radius, hole - 0.75 * radius),
            (right, hole - 0.2 * radius),
            (right, low - 18 * grown),
        ),
        *bezier(
            (right, low - 18 * grown),
            (right, low + 8 * grown),
            (radius * 0.8, low),
            (0.35 * radius, hole + 0.94 * radius),
        ),
        *bezier(
            (0.35 * radius, hole + 0.94 * radius),
            (1.2 * radius, hole + 0.72 * radius),
            (1.35 * radius, hole - 0.42 * radius),
            (0.55 * radius, hole - 0.835 * radius),
        ),
    )
