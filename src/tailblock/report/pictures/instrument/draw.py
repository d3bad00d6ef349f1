"""The whole drawing: front and side beside each other, marks, numbers, and the same in words.

In: a `Portrait`. Out: a `Picture`; one unit of it is 1 mm of the instrument. What is affected is
hatched and outlined and has its number in a circle: nothing is told by colour alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.pictures.instrument.numbers import RADIUS, Pointer, beside, drawn
from tailblock.report.pictures.instrument.places import Place, Places
from tailblock.report.pictures.instrument.views import affected, front, side
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.svg import SOFT, group, label

if TYPE_CHECKING:
    from collections.abc import Iterator

    from markupsafe import Markup

    from tailblock.report.model import Portrait
    from tailblock.report.pictures.instrument.curves import Point, Polygon

FRONT, SIDE = N_("Front"), N_("Side")
TITLE = N_("The instrument from the front and from the side")
STRINGS = {
    "steel": N_("A guitar with six steel strings"),
    "twelve": N_("A guitar with twelve strings"),
    "nylon": N_("A guitar with nylon strings"),
}
BRIDGES = {
    "pin": N_("a bridge with pins"),
    "pinless": N_("a bridge without pins"),
    "floating": N_("a loose bridge and a tailpiece"),
}
BRACINGS = {
    "x": N_("under the top an X of two long bars"),
    "ladder": N_("under the top bars that lie straight across"),
    "fan": N_("under the top a fan of thin bars"),
    "": N_("the bars under the top left out"),
}

_UNDER = frozenset({"top", "braces", "binding"})  # what the neck and the bridge lie on
_EDGE, _LANE = 8.0, 2 * RADIUS + 4
_AIR = 12.0  # between a lane and a view
_KNOBS = 70.0  # half the room that the head takes with its tuners
_CAPTION = 26.0


def instrument(portrait: Portrait) -> Picture:
    """Return the drawing of an instrument with its probable causes."""
    return _Sheet(portrait).picture()


class _Sheet:
    """One instrument on its sheet, and where the nut lies in either view."""

    def __init__(self, portrait: Portrait) -> None:
        self.portrait = portrait
        self.places = Places(portrait)
        size, seen = self.places.size, self.places.profile
        wide = max(_KNOBS, *(x for x, _ in size.half))
        above = size.kind.head * size.grown + 24
        fore = -min(x for x, _ in seen.saddle)
        self.left = _EDGE + _LANE / 2
        self.front: Point = (self.left + _LANE / 2 + _AIR + wide, above)
        self.middle = self.front[0] + wide + _AIR + _LANE / 2
        self.side: Point = (self.middle + _LANE / 2 + _AIR + fore, above)
        self.right = self.side[0] + max(x for x, _ in seen.back) + _AIR + _LANE / 2
        self.width = self.right + _LANE / 2 + _EDGE
        self.height = above + size.tail + 24 + 1.6 * _CAPTION
        places = {mark.part_id: self.places.of(mark.part_id) for mark in portrait.marks}
        self.marked = {part: at for part, at in places.items() if isinstance(at, Place)}

    def picture(self) -> Picture:
        below = self.height - 0.5 * _CAPTION
        middle = self.side[0] + self.places.size.kind.deep / 2
        sides = (one for place in self.marked.values() for one in place.side)
        return Picture(
            kind="instrument",
            title=_(TITLE),
            text=self._said(),
            width=round(self.width, 1),
            height=round(self.height, 1),
            body=group(
                [
                    *front(self.places, self.front, self._fronts(under=True)),
                    *affected(self._fronts(under=False), self.front),
                    *side(self.places, self.side),
                    *affected(sides, self.side),
                    *self._numbers(),
                    label(
                        self.front[0], below, _(FRONT), size=_CAPTION, anchor="middle", fill=SOFT
                    ),
                    label(middle, below, _(SIDE), size=_CAPTION, anchor="middle", fill=SOFT),
                ]
            ),
        )

    def _said(self) -> str:
        drawn_as = (
            _(STRINGS[self.portrait.strings]),
            _(BRIDGES[self.portrait.bridge]),
            _(BRACINGS[self.portrait.bracing]),
            _("{frets_clear} frets clear of the body").format(
                frets_clear=self.portrait.frets_clear
            ),
        )
        marks = (
            _("Number {number}, {where}: {plain}").format(
                number=mark.number, where=mark.where, plain=mark.plain
            )
            for mark in self.portrait.marks
            if mark.part_id in self.marked
        )
        return " ".join((f"{', '.join(drawn_as)}.", *marks))

    def _fronts(self, *, under: bool) -> Iterator[Polygon]:
        """Yield the affected fields of the front that lie under the fittings, or the others."""
        for part, place in self.marked.items():
            if (part in _UNDER) == under:
                yield from place.front

    def _numbers(self) -> Iterator[Markup]:
        for lane, x in (("left", self.left), ("middle", self.middle), ("right", self.right)):
            nut = self.side if lane == "right" else self.front
            pointers = [
                Pointer(
                    tuple(mark.number for mark in self.portrait.marks if mark.part_id == part),
                    (place.target[0] + nut[0], place.target[1] + nut[1]),
                )
                for part, place in self.marked.items()
                if place.lane == lane
            ]
            for one in beside(pointers, x, _EDGE, self.height - _EDGE):
                yield drawn(one)
