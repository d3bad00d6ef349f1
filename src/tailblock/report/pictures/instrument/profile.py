"""The instrument from the side: its top to the left, its back to the right.

In: a `Portrait` and its `Size`. Out: polygons in mm; x counts from the plane of the top toward the
back. Drawn without exaggeration: heights that matter are in the other picture.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import bar, bezier, box
from tailblock.report.pictures.instrument.head import FACE, head_aside, tuners_aside

if TYPE_CHECKING:
    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon
    from tailblock.report.pictures.instrument.size import Size

_BOARD = 6.0  # thickness
_NECK = 21.0  # board and neck at the nut
_BRIDGE, _TIED, _FLOATING = 9.0, 8.0, 16.0  # height of the bridge
_SADDLE = 3.0  # over the bridge


@dataclass(frozen=True, slots=True)
class Profile:
    """The parts from the side; what is not there is empty."""

    head: Polygon
    tuners: tuple[Polygon, ...]
    nut: Polygon
    board: Polygon
    neck: Polygon
    sides: Polygon
    back: Polygon
    trim: tuple[Polygon, ...]
    neck_block: Polygon
    end_block: Polygon
    end_pin: Polygon
    bridge: Polygon
    saddle: Polygon
    pins: Polygon
    tailpiece: Polygon
    strings: tuple[Point, ...]


def profile(portrait: Portrait, size: Size) -> Profile:
    """Return the instrument from the side."""
    deep, deeper = size.kind.deep * size.grown, size.kind.deeper * size.grown
    top, tail, grown = size.body, size.tail, size.grown
    floating, pinned = portrait.bridge == "floating", portrait.bridge == "pin"
    high = _FLOATING if floating else _TIED if portrait.strings == "nylon" else _BRIDGE
    behind = (
        (deep, top),
        *bezier((deep, top), (deep + 7, top + 90), (deeper + 6, tail - 110), (deeper, tail)),
    )
    crown = (-high - _SADDLE, size.saddle(0))
    end = (-9.0, size.scale + 68 * grown) if floating else (-high - 1.5, size.scale + 15)
    return Profile(
        head=head_aside(size),
        tuners=tuners_aside(portrait, size),
        nut=box(FACE - 4, -5, 0, 0),
        board=box(-_BOARD, 0, 0, size.board_end),
        neck=_neck(size, deep),
        sides=((0.0, top), *behind, (0.0, tail)),
        back=_strip(behind, 0, 4),
        trim=(box(0, top, 3.5, tail), _strip(behind, 4, 7)),
        neck_block=box(4, top, deep - 4, top + 48 * grown),
        end_block=box(4, tail - 24 * grown, deeper - 3, tail),
        end_pin=_end_pin(0.42 * deeper, tail),
        bridge=_bridge(size, high, floating=floating),
        saddle=box(crown[0], crown[1] - 1.5, -high, crown[1] + 1.5),
        pins=box(-high - 4, size.scale + 9, -high, size.scale + 16) if pinned else (),
        tailpiece=_tailpiece(size, deeper) if floating else (),
        strings=((FACE - 4, -2), crown, end),
    )


def _strip(line: Polygon, near: float, far: float) -> Polygon:
    """Return what lies between two distances before a line that runs downward."""
    return (*((x - near, y) for x, y in line), *((x - far, y) for x, y in reversed(line)))


def _neck(size: Size, deep: float) -> Polygon:
    """Return the wood of the neck with its heel, which reaches almost to the back."""
    top, grown = size.body, size.grown
    at_nut, at_heel, cap = _NECK - _BOARD, _NECK - _BOARD + 3.5, 0.95 * deep
    return (
        (0.0, 0.0),
        *bezier((0.0, 0.0), (5.0, -6.0), (at_nut - 1, 4), (at_nut, 26), steps=6),
        (at_heel, top - 92 * grown),
        *bezier(
            (at_heel, top - 92 * grown),
            (at_heel + 3, top - 40 * grown),
            (0.45 * deep, top - 24 * grown),
            (cap, top - 20 * grown),
            steps=10,
        ),
        (cap, top),
        (0.0, top),
    )


def _end_pin(x: float, tail: float) -> Polygon:
    """Return an end pin, or the socket that stands in its place."""
    half = ((4, 0), (3, 5), (7, 9), (6, 14))
    return (
        *((x + wide, tail + y) for wide, y in half),
        *((x - wide, tail + y) for wide, y in reversed(half)),
    )


def _bridge(size: Size, high: float, *, floating: bool) -> Polygon:
    if floating:
        front, back = size.scale - 5, size.scale + 12
        return ((0, front), (-high, front + 2), (-high, back - 4), (0, back))
    front, back = size.scale - 8, size.scale + 24
    return ((0, front), (-high, front + 2), (-high, back - 7), (-0.5 * high, back), (0, back))


def _tailpiece(size: Size, deeper: float) -> Polygon:
    """Return a tailpiece: from the strings over the edge of the body to the end pin."""
    start, edge, foot = (-9.0, size.scale + 62 * size.grown), (-4.0, size.tail + 3), 0.42 * deeper
    first, second, third, last = bar(start, edge, 3)
    rim = ((foot, size.tail + 3), (foot, size.tail), (edge[0] + 3, size.tail - 1))
    return (first, second, third, *rim, last)
