"""A reading of two visits on its limits: where it was, where it is, and which way it went.

In: `Compared`. Out: a `Picture` that is small enough for a row of a table: the earlier reading
above, the later one below it, an arrow from one to the other if it moved, and the way in a word.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.pictures.picture import Picture
from tailblock.report.pictures.scale import band, limits, reading, scale_for, systems
from tailblock.report.pictures.svg import INK, PAPER, element, group, label, number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from markupsafe import Markup

    from tailblock.report.model import Compared

CHANGE = 52.0  # width on paper [mm]
WIDTH = 228.0
MARKS = N_(
    "On each band the white diamond is the earlier reading, the black one the later, each with its "
    "standard uncertainty as a bar. Plain is normal, slanted lines are to be watched, crossed "
    "lines lie outside."
)
WORDS = {"better": N_("better"), "worse": N_("worse"), "same": N_("as it was")}
_LEFT, _RIGHT = 1.0, 174.0  # of the band; the units and the word stand beside it
_TOP, _TALL = 12.5, 26.0
_LANES = (_TOP + 7.5, _TOP + _TALL - 7.5)
_HEAD = 5.0  # length of the head of the arrow
_CLEAR = 5.5  # px from the middle of a mark: there an arrow begins or ends


def change_picture(one: Compared) -> Picture | None:
    """Return the picture of a reading of two visits, None for an answer in words."""
    if one.gauges is None:
        return None
    before, after = one.gauges
    scale = scale_for(one.gauges, _LEFT, _RIGHT)
    old, new = scale.places(before), scale.places(after)
    return Picture(
        kind="change",
        title=_("{check}, before and after").format(check=one.check),
        text=_("Before: {before}. After: {after}. {one}").format(
            before=one.before, after=one.after, one=_way(one)
        ),
        width=WIDTH,
        height=_TOP + _TALL + (14 if systems(before) > 1 else 3),
        body=group(
            (
                *band(before, scale, _TOP, _TALL),
                *limits(before, scale, _TOP, _TOP + _TALL),
                *_arrow((old[0], _LANES[0]), (new[0], _LANES[1]), headed=one.way != "same"),
                *reading(*old, _LANES[0]),
                *reading(*new, _LANES[1], filled=True),
                label(_RIGHT + 3, _TOP + _TALL / 2 + 3, _(WORDS[one.way]), size=9, bold=True),
            )
        ),
    )


def _way(one: Compared) -> str:
    change = f": {one.change}" if one.change else ""
    return f"{_(WORDS[one.way]).capitalize()}{change}."


def _arrow(
    start: tuple[float, float], end: tuple[float, float], *, headed: bool
) -> Iterator[Markup]:
    """Yield a line from one mark to the next on a ground of paper, as an arrow if it moved."""
    (x1, y1), (x2, y2) = start, end
    long = hypot(x2 - x1, y2 - y1)
    across, down = (x2 - x1) / long, (y2 - y1) / long
    x1, y1 = x1 + _CLEAR * across, y1 + _CLEAR * down
    x2, y2 = x2 - _CLEAR * across, y2 - _CLEAR * down
    head = _HEAD if headed else 0.0
    neck_x, neck_y = x2 - head * across, y2 - head * down
    for colour, width in ((PAPER, 4.0), (INK, 1.4)):
        yield element("line", x1=x1, y1=y1, x2=neck_x, y2=neck_y, stroke=colour, stroke_width=width)
    if not headed:
        return
    half = 3.0
    corners = (
        (x2, y2),
        (neck_x - half * down, neck_y + half * across),
        (neck_x + half * down, neck_y - half * across),
    )
    points = " ".join(f"{number(x)},{number(y)}" for x, y in corners)
    yield element("polygon", points=points, fill=INK, stroke=PAPER, stroke_width=0.6)
