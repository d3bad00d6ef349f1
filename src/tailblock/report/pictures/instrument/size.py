"""How large everything is on one kind of instrument: the only numbers of the drawing.

In: a `Portrait`. Out: `Size` in mm. Frets and bridge lie where equal temperament and the scale
length put them; the rest is ordinary for its kind (common practice, from memory) and grows with the
scale length, so that a child's guitar gets a child's body.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.measures.frets import fret_position
from tailblock.report.pictures.instrument.curves import bezier, mirrored

if TYPE_CHECKING:
    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon

FULL = 648.0  # the scale length that goes with the widths below


@dataclass(frozen=True, slots=True)
class Kind:
    """What one kind of instrument has of its own, on a scale of `FULL`.

    `back` and `fore` is what the saddle stands farther from the nut than the scale length, under
    the first and the last string; `beyond` the body's length behind the saddle; widths are halves.
    """

    nut: float
    board: float  # where neck and body meet
    spread: float  # of the outer strings, at the saddle
    fore: float
    back: float
    beyond: float
    upper: float
    waist: float
    lower: float
    hole: float
    head: float
    head_wide: float
    deep: float  # of the sides, at the neck
    deeper: float  # and at the tail


KINDS = {
    "steel": Kind(21.8, 28, 27, 1.2, 5, 206, 145, 121, 198, 50, 172, 36, 99, 119),
    "twelve": Kind(24.0, 29.5, 28, 1.2, 5, 206, 146, 122, 199, 50, 218, 38, 101, 121),
    "nylon": Kind(26.0, 31, 29, 1.5, 1.5, 163, 140, 118, 184, 42.5, 190, 37, 94, 99),
}


@dataclass(frozen=True)
class Size:
    """The sizes of one instrument [mm]; y counts from the nut."""

    kind: Kind
    scale: float
    join: int

    @property
    def grown(self) -> float:
        """Return how much larger the body is than that of a full scale [1]."""
        return self.scale / FULL

    def fret(self, number: float) -> float:
        """Return where a fret lies."""
        return fret_position(self.scale, number)

    @property
    def frets(self) -> int:
        """Return how many frets there are: 19 with 12 clear of the body, 20 with 14."""
        return 19 if self.join <= 12 else max(20, self.join + 5)

    @property
    def board_end(self) -> float:
        """Return where the fingerboard ends."""
        return self.fret(self.frets + 0.6)

    @property
    def body(self) -> float:
        """Return where the body begins."""
        return self.fret(self.join)

    @property
    def tail(self) -> float:
        """Return where the body ends; behind the saddle a body of 12 frets clear is shorter."""
        clear = min(max(self.join, 12), 14)
        shorter = 10 * (14 - clear) if self.kind.beyond > 200 else 0
        return self.scale + self.grown * (self.kind.beyond - shorter)

    @property
    def hole(self) -> float:
        """Return the middle of the soundhole: the board ends at its edge."""
        return self.board_end + self.grown * self.kind.hole - 2

    @property
    def hole_radius(self) -> float:
        """Return half the width of the soundhole."""
        return self.grown * self.kind.hole

    def board(self, y: float) -> float:
        """Return half the width of the fingerboard at a place."""
        kind = self.kind
        return kind.nut + (kind.board - kind.nut) * y / self.body

    @property
    def fingerboard(self) -> Polygon:
        """Return the fingerboard."""
        start, end = self.board(0), self.board(self.board_end)
        return ((-start, 0), (start, 0), (end, self.board_end), (-end, self.board_end))

    def string(self, share: float, y: float) -> float:
        """Return where a string lies at a place; `share` is -1 for the last, 1 for the first."""
        at_nut = self.kind.nut - 3.6
        return share * (at_nut + (self.kind.spread - at_nut) * y / self.scale)

    def saddle(self, x: float) -> float:
        """Return where the saddle lies at a distance from the middle line; it may be slanted."""
        kind = self.kind
        middle, slope = (kind.fore + kind.back) / 2, (kind.back - kind.fore) / (2 * kind.spread)
        return self.scale + middle - slope * x

    @cached_property
    def half(self) -> tuple[Point, ...]:
        """Return the treble half of the body's outline, from the neck to the tail."""
        kind, grown, top = self.kind, self.grown, self.body
        long = self.tail - top
        upper, waist, lower = (grown * wide for wide in (kind.upper, kind.waist, kind.lower))
        at_upper, at_waist, at_lower = (top + share * long for share in (0.19, 0.405, 0.735))
        shoulder = bezier(
            (0.0, top), (0.72 * upper, top), (upper, top + 0.055 * long), (upper, at_upper)
        )
        flank = bezier(
            (upper, at_upper),
            (upper, at_upper + 0.095 * long),
            (waist, at_waist - 0.085 * long),
            (waist, at_waist),
        )
        hip = bezier(
            (waist, at_waist),
            (waist, at_waist + 0.125 * long),
            (lower, at_lower - 0.19 * long),
            (lower, at_lower),
        )
        foot = bezier(
            (lower, at_lower),
            (lower, at_lower + 0.16 * long),
            (0.62 * lower, self.tail),
            (0.0, self.tail),
        )
        return ((0.0, top), *shoulder, *flank, *hip, *foot)

    @cached_property
    def outline(self) -> Polygon:
        """Return the outline of the body."""
        return mirrored(self.half)

    def wide(self, y: float) -> float:
        """Return half the width of the body at a place; 0 beyond its ends."""
        for (x1, y1), (x2, y2) in pairwise(self.half):
            if y1 <= y <= y2 and y2 > y1:
                return x1 + (x2 - x1) * (y - y1) / (y2 - y1)
        return 0.0

    def reach(self, start: Point, end: Point, *, inset: float = 9.0) -> Point:
        """Return how far a brace goes from a point within the body toward another one.

        It ends at that point or before it, a little inside the edge.
        """
        (x1, y1), (x2, y2) = start, end
        low, high = 0.0, 1.0
        for _ in range(24):
            middle = (low + high) / 2
            x, y = x1 + middle * (x2 - x1), y1 + middle * (y2 - y1)
            within = self.body + inset < y < self.tail - inset and abs(x) < self.wide(y) - inset
            low, high = (middle, high) if within else (low, middle)
        return (x1 + low * (x2 - x1), y1 + low * (y2 - y1))


def size_of(portrait: Portrait) -> Size:
    """Return the sizes of an instrument."""
    return Size(KINDS[portrait.strings], portrait.scale_length, portrait.frets_clear)
