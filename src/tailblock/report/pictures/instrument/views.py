"""The instrument from the front and from the side, and the fields that are affected.

In: `Places` and where the nut lies on the sheet. Out: SVG elements, from the lowest to the topmost.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.pictures.instrument.curves import box, circle, hatched, moved, path
from tailblock.report.pictures.instrument.fittings import courses
from tailblock.report.pictures.svg import INK, PAPER, SOFT, WARN, element

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from markupsafe import Markup

    from tailblock.report.pictures.instrument.curves import Point, Polygon
    from tailblock.report.pictures.instrument.places import Places

WOOD, DARK, BONE = "#f6f0e2", "#d9d2c5", "#fffdf6"
_HIDDEN = "7 5"  # dashes of what lies under the wood
_THIN, _LINE, _EDGE = 1.2, 1.5, 2.2  # strokes


def front(places: Places, at: Point, under: Iterable[Polygon]) -> Iterator[Markup]:
    """Yield the front; `under` are affected fields that neck and fittings lie on."""
    size, fittings = places.size, places.fittings
    yield _shape(size.outline, at, WOOD, width=_EDGE)
    yield from affected(under, at)
    for ring in (13, 7):
        yield _shape(circle(0, size.hole, size.hole_radius + ring), at, stroke=SOFT, width=1)
    for one in (*places.braces, places.plate):
        yield _shape(one, at, stroke=SOFT, width=_LINE, dash=_HIDDEN)
    yield _shape(places.guard, at, DARK)
    yield _shape(circle(0, size.hole, size.hole_radius), at, DARK)
    yield from _head_and_board(places, at)
    for one in (fittings.tailpiece, fittings.bridge, fittings.block):
        yield _shape(one, at, DARK)
    yield _shape(fittings.saddle, at, BONE, width=_THIN)
    yield _strings(places, at)
    for one in fittings.ends:
        yield _shape(one, at, BONE, width=_THIN)


def _head_and_board(places: Places, at: Point) -> Iterator[Markup]:
    size, head = places.size, places.head
    for one in head.knobs:
        yield _shape(one, at, BONE, width=_THIN)
    yield _shape(head.outline, at, WOOD, width=_EDGE)
    for one in head.slots:
        yield _shape(one, at, DARK, width=_THIN)
    for one in head.posts:
        yield _shape(one, at, BONE, width=_THIN)
    yield _shape(size.fingerboard, at, DARK)
    frets = (
        path(moved(((-size.board(y), y), (size.board(y), y)), *at), closed=False)
        for y in map(size.fret, range(1, size.frets + 1))
    )
    yield element("path", d="".join(frets), stroke=INK, stroke_width=1.4, fill="none")
    yield _shape(box(-size.kind.nut, -5, size.kind.nut, 0), at, BONE, width=_THIN)


def _strings(places: Places, at: Point) -> Markup:
    size = places.size
    lines = []
    for share, end, anchor in zip(
        courses(places.portrait), places.head.ends, places.fittings.anchors, strict=True
    ):
        x = size.string(share, size.scale)
        course = (end, (size.string(share, 0), -3.0), (x, size.saddle(x)), anchor)
        lines.append(path(moved(course, *at), closed=False))
    return element("path", d="".join(lines), stroke=SOFT, stroke_width=0.9, fill="none")


def side(places: Places, at: Point) -> Iterator[Markup]:
    """Yield the view from the side."""
    seen = places.profile
    yield _shape(seen.head, at, WOOD, width=_EDGE)
    for one in seen.tuners:
        yield _shape(one, at, BONE, width=_THIN)
    yield _shape(seen.neck, at, WOOD, width=_EDGE)
    yield _shape(seen.sides, at, WOOD, width=_EDGE)
    for one in (*seen.trim, seen.back):
        yield _shape(one, at, PAPER, stroke=SOFT, width=1)
    for one in (seen.neck_block, seen.end_block):
        yield _shape(one, at, stroke=SOFT, width=_LINE, dash=_HIDDEN)
    for one in (seen.board, seen.bridge, seen.tailpiece):
        yield _shape(one, at, DARK)
    for one in (seen.nut, seen.saddle, seen.pins, seen.end_pin):
        yield _shape(one, at, BONE, width=_THIN)
    strings = path(moved(seen.strings, *at), closed=False)
    yield element("path", d=strings, stroke=SOFT, stroke_width=_THIN, fill="none")


def affected(polygons: Iterable[Polygon], at: Point) -> Iterator[Markup]:
    """Yield affected fields, hatched and outlined, the large ones first and with wider lines."""
    for one in sorted(polygons, key=_area, reverse=True):
        there = moved(one, *at)
        gap = 24.0 if _area(one) > 40_000 else 12.0 if _area(one) > 1_500 else 7.0
        if lines := hatched(there, gap=gap):  # a field may be too small for any
            yield element("path", d=lines, stroke=WARN, stroke_width=_LINE, fill="none")
        yield _shape(one, at, stroke=WARN, width=2.6)


def _shape(
    polygon: Polygon,
    at: Point,
    fill: str = "none",
    *,
    stroke: str = INK,
    width: float = _LINE,
    dash: str | None = None,
) -> Markup:
    """Return a polygon; nothing where it is empty."""
    if not polygon:
        return element("g")
    return element(
        "path",
        d=path(moved(polygon, *at)),
        fill=fill,
        stroke=stroke,
        stroke_width=width,
        stroke_dasharray=dash,
        stroke_linejoin="round",
    )


def _area(polygon: Polygon) -> float:
    """Return the area of a polygon [mm2], by the shoelace formula."""
    corners = zip(polygon, (*polygon[1:], polygon[0]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in corners)) / 2
