"""Where each part of a checklist lies in the drawing, or why it has no place there.

In: a `Portrait`. Out: `Place`s by the part's id. The ids are those of the shipped checklists; a
part that another checklist has beyond them has no place, and the list beside the drawing says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from tailblock.report.pictures.instrument.braces import braces, plate
from tailblock.report.pictures.instrument.curves import bar, box
from tailblock.report.pictures.instrument.fittings import courses, fittings, guard
from tailblock.report.pictures.instrument.head import head
from tailblock.report.pictures.instrument.profile import profile
from tailblock.report.pictures.instrument.size import size_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon

Lane = Literal["left", "middle", "right"]

WHOLE = "it is about the instrument as a whole"
FINISH = "it lies on everything"
NO_TAILPIECE = "drawn without a tailpiece, because the strings end at the bridge"
NO_GUARD = "drawn without a pickguard"
ELSEWHERE = "the drawing has no place for it"


@dataclass(frozen=True, slots=True)
class Place:
    """A part in the drawing: fields from the front and from the side, and where its number points.

    `target` lies in the front view for the lanes `left` and `middle`, in the side view for `right`.
    """

    lane: Lane
    target: Point
    front: tuple[Polygon, ...] = ()
    side: tuple[Polygon, ...] = ()


class Places:
    """The places of all parts of one instrument."""

    def __init__(self, portrait: Portrait) -> None:
        self.portrait = portrait
        self.size = size_of(portrait)
        self.head = head(portrait, self.size)
        self.fittings = fittings(portrait, self.size)
        self.braces = braces(portrait, self.size)
        self.plate: Polygon = plate(portrait, self.size) if portrait.plate else ()
        self.guard: Polygon = guard(self.size) if portrait.guard else ()
        self.profile = profile(portrait, self.size)

    def of(self, part: str) -> Place | str:
        """Return the place of a part, or the reason why it has none."""
        found = self._known.get(part)
        return found() if found else ELSEWHERE

    @cached_property
    def _known(self) -> dict[str, Callable[[], Place | str]]:
        return {
            "whole": lambda: WHOLE,
            "finish": lambda: FINISH,
            "strings": self._strings,
            "headstock": self._headstock,
            "tuners": self._tuners,
            "nut": self._nut,
            "neck": self._neck,
            "fingerboard": self._fingerboard,
            "frets": self._frets,
            "neck-joint": self._neck_joint,
            "top": self._top,
            "braces": self._braces,
            "bridge": self._bridge,
            "saddle": self._saddle,
            "pins": self._pins,
            "tailpiece": self._tailpiece,
            "back": self._back,
            "sides": self._sides,
            "end-block": self._end_block,
            "binding": self._binding,
            "guard": self._guard,
            "electronics": self._electronics,
        }

    def _strings(self) -> Place:
        size = self.size
        above, below = size.board_end, size.scale - 4
        share = courses(self.portrait)[-1]
        field = (
            (size.string(-share, above), above),
            (size.string(share, above), above),
            (size.string(share, below), below),
            (size.string(-share, below), below),
        )
        y = size.hole + 0.35 * size.hole_radius
        return Place("middle", (size.string(0.6, y), y), (field,))

    def _headstock(self) -> Place:
        y = -0.93 * self.size.kind.head * self.size.grown
        return Place("middle", (14, y), (self.head.outline,), (self.profile.head,))

    def _tuners(self) -> Place:
        upper = min(self.head.knobs or self.head.posts, key=lambda one: (one[0][1], one[0][0]))
        left = min(upper)
        return Place("left", left, (*self.head.knobs, *self.head.posts), self.profile.tuners)

    def _nut(self) -> Place:
        half = self.size.kind.nut
        return Place("middle", (half - 4, -2), (box(-half, -5, half, 0),), (self.profile.nut,))

    def _neck(self) -> Place:
        return Place("right", (8, 0.45 * self.size.body), (), (self.profile.neck,))

    def _fingerboard(self) -> Place:
        size = self.size
        y = size.fret(3.5)
        return Place("left", (4 - size.board(y), y), (size.fingerboard,), (self.profile.board,))

    def _frets(self) -> Place:
        size = self.size
        lines = [(size.fret(number), size.board(size.fret(number))) for number in range(1, 15)]
        y, wide = lines[6]
        fields = tuple(bar((-half, at), (half, at), 3) for at, half in lines)
        return Place("middle", (wide - 5, y), fields)

    def _neck_joint(self) -> Place:
        top, deep = self.size.body, self.size.kind.deep * self.size.grown
        heel = box(4, top - 16 * self.size.grown, 0.95 * deep, top)
        return Place("right", (0.7 * deep, top), (), (heel, self.profile.neck_block))

    def _top(self) -> Place:
        size = self.size
        y = size.body + 0.8 * (size.tail - size.body)
        return Place("middle", (0.62 * size.wide(y), y), (size.outline,), (self.profile.trim[0],))

    def _braces(self) -> Place:
        size = self.size
        if not self.braces:
            y = size.scale + 40 * size.grown
            return Place("left", (-0.6 * size.wide(y), y), (self.plate,) if self.plate else ())
        foremost = min(self.braces, key=lambda one: min(one)[0])  # it reaches farthest to the bass
        x, y = min(foremost)
        return Place("left", (x + 14, y), (*self.braces, *((self.plate,) if self.plate else ())))

    def _bridge(self) -> Place:
        x, y = max(self.fittings.bridge)
        return Place("middle", (x - 10, y), (self.fittings.bridge,), (self.profile.bridge,))

    def _saddle(self) -> Place:
        x = 8 + self.size.kind.spread
        target = (-x, self.size.saddle(-x))
        return Place("left", target, (self.fittings.saddle,), (self.profile.saddle,))

    def _pins(self) -> Place:
        x, y = self.fittings.anchors[0]
        pins = (self.profile.pins,) if self.profile.pins else ()
        return Place("left", (x, y), self.fittings.ends, pins)

    def _tailpiece(self) -> Place | str:
        if not self.fittings.tailpiece:
            return NO_TAILPIECE
        middle = (8, self.size.tail - 40 * self.size.grown)
        return Place("middle", middle, (self.fittings.tailpiece,), (self.profile.tailpiece,))

    def _back(self) -> Place:
        size = self.size
        y = size.body + 0.5 * (size.tail - size.body)
        x = max(x for x, at in self.profile.back if abs(at - y) < 40)
        return Place("right", (x - 2, y), (), (self.profile.back,))

    def _sides(self) -> Place:
        size = self.size
        y = size.body + 0.72 * (size.tail - size.body)
        return Place("right", (0.55 * size.kind.deep * size.grown, y), (), (self.profile.sides,))

    def _end_block(self) -> Place:
        size = self.size
        target = (0.7 * size.kind.deeper * size.grown, size.tail - 12 * size.grown)
        return Place("right", target, (), (self.profile.end_block, self.profile.end_pin))

    def _binding(self) -> Place:
        size = self.size
        ring = (*size.outline, size.outline[0], *_inner(size.outline))
        y = size.body + 0.2 * (size.tail - size.body)
        return Place("left", (2 - size.wide(y), y), (ring,), self.profile.trim)

    def _guard(self) -> Place | str:
        if not self.guard:
            return NO_GUARD
        x, y = max(self.guard)
        return Place("middle", (x - 12, y), (self.guard,))

    def _electronics(self) -> Place:
        """Return where the pickup is; the socket at the end pin stands for what nobody knows."""
        size, socket = self.size, (self.profile.end_pin,)
        if self.portrait.pickup == "under-saddle":
            return replace(self._saddle(), side=socket)
        if self.portrait.pickup == "contact" and self.plate:
            return Place("left", (-30, size.scale + 26), (self.plate,), socket)
        if self.portrait.pickup == "soundhole":
            wide = 0.92 * size.hole_radius
            pickup = box(-wide, size.hole - 9, wide, size.hole + 9)
            return Place("middle", (0.6 * wide, size.hole), (pickup,), socket)
        x, y = self.profile.end_pin[0]
        return Place("right", (x + 4, y + 9), (), socket)


def _inner(outline: Polygon) -> Polygon:
    """Return an outline a little smaller, the other way round: the inner edge of the trim."""
    ys = [y for _, y in outline]
    middle, half = (min(ys) + max(ys)) / 2, (max(ys) - min(ys)) / 2
    widest = max(x for x, _ in outline)
    shrunk = [
        (x * (widest - 5) / widest, middle + (y - middle) * (half - 5) / half) for x, y in outline
    ]
    return tuple(reversed([*shrunk, shrunk[0]]))
