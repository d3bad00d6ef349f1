"""The line of the neck from the side, to scale, with its heights drawn larger by a stated factor.

In: a `NeckLine`. Out: a `Picture`: 1 px is 1 mm along the strings, and 1 mm of height is as many px
as the factor says. Heights count from a straightedge on fret 1 and the fret at the body. What was
not measured is not drawn; a letter ties every height to its line in the list below.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.measures.frets import fret_position
from tailblock.measures.neck_line import along, fret_drop
from tailblock.messages import N_, _
from tailblock.report.pictures.instrument.size import KINDS, Size
from tailblock.report.pictures.labels import letters, spread
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.rulers import bar, rulers
from tailblock.report.pictures.svg import (
    INK,
    PAPER,
    SOFT,
    WARN,
    WASH,
    element,
    group,
    label,
    number,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from markupsafe import Markup

    from tailblock.report.model import NeckHeightName, NeckLine

    Point = tuple[float, float]

TITLE = N_("The line of the neck from the side")
STRAIGHTEDGE, SOUNDHOLE = "straightedge", "soundhole"
HEIGHTS = N_("Heights are drawn {} times as large as lengths.")
FACTORS = (10, 5, 2, 1)
COMPENSATION = 2.0  # mm, what a saddle stands farther back; usual, from memory
SIZE = 13.0  # of the letters
_NUMBERED = (1, 5, 7, 9, 12)
_LEFT, _RIGHT = 24.0, 20.0
_ABOVE, _BELOW = 46.0, 54.0
_TALL = 330.0  # the most that all heights together take
_FRONT, _DEEP, _BEHIND = 8.0, 30.0, 95.0  # bridge before and behind the saddle, top behind it
_STEPS = tuple(step / 12 for step in range(13))


def neck_line(found: NeckLine) -> Picture:
    """Return the side view of neck, strings, bridge and top."""
    return _Side(found).picture()


class _Side:
    """The places [mm] and heights over the straightedge [mm] of one instrument, and its sheet."""

    def __init__(self, found: NeckLine) -> None:
        self.found = found
        self.read: dict[NeckHeightName, float] = {one.name: one.value for one in found.heights}
        self.size = Size(KINDS[found.strings], found.scale_length, found.frets_clear)
        self.first = fret_position(found.scale_length, 1)
        self.twelfth = fret_position(found.scale_length, 12)
        self.join = fret_position(found.scale_length, found.frets_clear)
        self.saddle = found.scale_length + COMPENSATION
        self.bridge_top = -self.read["projection"]
        self.crown = self._sum(self.bridge_top, "exposure")
        self.top = self._sum(self.bridge_top, "thickness", sign=-1)
        self.string = self._string()
        heights = [0.0, self.bridge_top - 1.0, *self._extremes()]
        high, low = max(heights), min(heights)
        self.factor = next((one for one in FACTORS if one * (high - low) <= _TALL), FACTORS[-1])
        self.zero = _ABOVE + self.factor * high
        self.width = _LEFT + self.saddle + _DEEP + _BEHIND + _RIGHT
        self.height = self.zero - self.factor * low + _BELOW

    def _sum(self, height: float, name: NeckHeightName, *, sign: int = 1) -> float | None:
        return height + sign * self.read[name] if name in self.read else None

    def _string(self) -> tuple[Point, Point] | None:
        """Return two points of the string: of opening, crown and action the two that say most."""
        points: list[Point] = []
        if "opening" in self.read:
            points.append((self.first, self.read["opening"]))
        if self.crown is not None:
            points.append((self.saddle, self.crown))
        if "action" in self.read:
            points.append((self.twelfth, self.read["action"] - self._drop(12)))
        return (points[0], points[1]) if len(points) >= 2 else None

    def _drop(self, fret: float) -> float:
        found = self.found
        if fret > found.frets_clear:
            return 0.0
        return fret_drop(self.read.get("relief", 0.0), found.scale_length, found.frets_clear, fret)

    def _extremes(self) -> Iterator[float]:
        if self.string:
            yield along(*self.string, 0)
            yield along(*self.string, self.saddle)
        yield from (self.read.get("action", 0.0), self.crown or 0.0, -self.read.get("relief", 0.0))
        if self.top is not None:
            yield self.top
            yield self.top - self.read.get("belly", 0.0)
            yield self.top - self.read.get("dip", 0.0)

    def at(self, place: float, height: float) -> Point:
        """Return a place and a height on the sheet."""
        return (_LEFT + place, self.zero - self.factor * height)

    def picture(self) -> Picture:
        factor = _(HEIGHTS).format(self.factor)
        said = (f"{one.letter}, {one.text}" for one in self.found.heights)
        return Picture(
            kind="side",
            title=_(TITLE),
            text=" ".join((factor, *said, *self.found.remarks)),
            width=round(self.width, 1),
            height=round(self.height, 1),
            body=group(
                [
                    *self._body(),
                    *self._bridge(),
                    *self._frets(),
                    *self._lines(),
                    *self._read(),
                    *rulers(_LEFT + 14, self.height - 12, self.factor, SIZE, factor),
                ]
            ),
        )

    def _line(self, *points: Point, stroke: str = INK, width: float = 1.6, dash: str | None = None,
              fill: str = "none") -> Markup:  # fmt: skip
        drawn = "L".join(f"{number(x)} {number(y)}" for x, y in (self.at(*one) for one in points))
        return element(
            "path", d=f"M{drawn}", fill=fill, stroke=stroke, stroke_width=width,
            stroke_dasharray=dash, stroke_linejoin="round",
        )  # fmt: skip

    def _body(self) -> Iterator[Markup]:
        """Yield the top: level as it lies under the bridge, with the dip and the belly as read."""
        if self.top is None:
            return
        hole, radius = self.size.hole, self.size.hole_radius
        yield self._line((self.join, self.top), (hole - radius, self.top), width=2.4)
        if self.factor * abs(self.top) > 2 * SIZE:  # else the other word stands there
            x, y = self.at(hole, self.top)
            yield label(x, y + 4, SOUNDHOLE, size=SIZE - 2, anchor="middle", fill=SOFT)
        front, back, end = self.saddle - _FRONT, self.saddle + _DEEP, self.saddle + _DEEP + _BEHIND
        start = hole + radius
        if "dip" in self.read:
            yield self._line((start, self.top), (front, self.top), stroke=SOFT, dash="4 4")
        sag = self.read.get("dip", 0.0)
        curve = [(start + (front - start) * u, self.top - 4 * sag * u * (1 - u)) for u in _STEPS]
        yield self._line(*curve, (back, self.top), width=2.4)
        if "belly" in self.read:
            edge = self.top - self.read["belly"]
            yield self._line((front, edge), (end, edge), stroke=SOFT, dash="4 4")
            curve = [
                (back + (end - back) * u, self.top + (edge - self.top) * u * u) for u in _STEPS
            ]
            yield self._line(*curve, width=2.4)
        else:
            yield self._line((back, self.top), (end, self.top), width=2.4)

    def _bridge(self) -> Iterator[Markup]:
        front, back = self.saddle - _FRONT, self.saddle + _DEEP
        if self.top is not None:
            corners = (
                (front, self.top), (front, self.bridge_top), (back - 8, self.bridge_top),
                (back, (self.bridge_top + self.top) / 2), (back, self.top),
            )  # fmt: skip
            yield self._line(*corners, corners[0], fill=WASH)
        else:
            yield self._line((front, self.bridge_top), (back - 8, self.bridge_top), width=2.4)
        if self.crown is not None:
            left, right, foot = self.saddle - 1.5, self.saddle + 1.5, self.bridge_top
            sides = ((left, self.crown), (right, self.crown), (right, foot))
            yield self._line((left, foot), *sides, (left, foot), fill=PAPER)

    def _frets(self) -> Iterator[Markup]:
        """Yield the line of the frets, a mark for each, and the numbers of some."""
        clear, scale = self.found.frets_clear, self.found.scale_length
        tops = [(fret_position(scale, fret), -self._drop(fret)) for fret in range(1, clear + 1)]
        yield self._line(*tops, width=2.4)
        for fret, (place, height) in enumerate(tops, start=1):
            x, y = self.at(place, height)
            yield element("line", x1=x, y1=y, x2=x, y2=y + 8, stroke=INK, stroke_width=1.4)
            if fret == clear or (fret in _NUMBERED and self.join - place > 1.4 * SIZE):
                yield label(x, y + 21, str(fret), size=SIZE - 2, anchor="middle", fill=SOFT)

    def _lines(self) -> Iterator[Markup]:
        """Yield the straightedge, dashed, and the string."""
        yield self._line((self.first, 0), (self.saddle + _DEEP, 0), stroke=SOFT, dash="9 4")
        x, y = self.at(self.join + 40, 0)
        yield label(x, y + SIZE, STRAIGHTEDGE, size=SIZE - 2, fill=SOFT)
        if self.string:
            ends = [(place, along(*self.string, place)) for place in (0.0, self.saddle)]
            yield self._line(*ends, width=2.0)

    def _read(self) -> Iterator[Markup]:
        """Yield each height as a bar between its two ends, and its letter above with a line."""
        spans = [self._span(one.name) for one in self.found.heights]
        texts = [f"{one.letter} {one.short}" for one in self.found.heights]
        places = [self.at(place, 0)[0] for place, _, _ in spans]
        size, middles = self._row(places, texts)
        for (place, low, high), text, middle in zip(spans, texts, middles, strict=True):
            x, bottom = self.at(place, low)
            top = self.at(place, high)[1]
            lead = (
                f"M{number(middle)} {number(SIZE + 9)}L{number(x)} {number(min(bottom, top) - 3)}"
            )
            yield element("path", d=lead, stroke=SOFT, stroke_width=0.8)
            yield element("path", d=bar((x, bottom), (x, top)), stroke=WARN, stroke_width=2.2)
            yield label(middle, SIZE + 3, text, size=size, anchor="middle")

    def _row(self, places: list[float], texts: list[str]) -> tuple[float, list[float]]:
        """Return the size of the letters, and the middles of the labels, which do not meet."""
        for size in (SIZE, SIZE - 2, SIZE - 4):
            wide = [letters(text, size) + 12 for text in texts]
            if middles := spread(places, wide, 0.0, self.width):
                return size, middles
        return SIZE - 5, [self.width * (at + 0.5) / len(texts) for at in range(len(texts))]

    def _span(self, name: NeckHeightName) -> tuple[float, float, float]:
        """Return where a height was read, and from where to where it reaches."""
        value, top = self.read[name], self.top or 0.0
        if name == "opening":
            return (self.first, 0.0, value)
        if name == "relief":
            return ((self.first + self.join) / 2, -value, 0.0)
        if name == "action":
            return (self.twelfth, -self._drop(12), value - self._drop(12))
        if name == "dip":
            start = self.size.hole + self.size.hole_radius
            return ((start + self.saddle - _FRONT) / 2, top - value, top)
        if name == "projection":
            return (self.saddle - _FRONT, self.bridge_top, 0.0)
        if name == "exposure":
            return (self.saddle, self.bridge_top, self.bridge_top + value)
        if name == "thickness":
            return (self.saddle + _DEEP / 2, top, self.bridge_top)
        return (self.saddle + _DEEP + 3, top - value, top)
