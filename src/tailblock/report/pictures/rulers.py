"""Bars that say how long a length and a height are in a drawing to scale.

In: where the bars stand, and the factor of the heights. Out: SVG elements.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.pictures.svg import INK, SOFT, element, label, number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from markupsafe import Markup

LENGTH, HEIGHT = 100, 2  # mm
TICK = 4.0  # half an end mark


def rulers(x: float, y: float, factor: float, size: float, words: str) -> Iterator[Markup]:
    """Yield a level bar of 100 mm at 1 px a mm, an upright one of 2 mm, and words beside them.

    Parameters
    ----------
    x, y
        The left end of the level bar.
    factor
        How much larger heights are drawn than lengths.
    size
        Of the letters.
    """
    upright, tall = x + LENGTH + 22, HEIGHT * factor
    yield element("path", d=bar((x, y), (x + LENGTH, y)), stroke=INK, stroke_width=1.6)
    middle = x + LENGTH / 2
    yield label(middle, y - 6, f"{LENGTH}\xa0mm", size=size - 2, anchor="middle", fill=SOFT)
    yield element("path", d=bar((upright, y), (upright, y - tall)), stroke=INK, stroke_width=1.6)
    yield label(upright + 8, y - tall / 2 + 4, f"{HEIGHT}\xa0mm", size=size - 2, fill=SOFT)
    yield label(upright + 64, y - 2, words, size=size, fill=SOFT)


def bar(start: tuple[float, float], end: tuple[float, float]) -> str:
    """Return a bar with a mark at either end, level or upright, as the data of a path.

    >>> bar((0, 5), (10, 5))
    'M0 5L10 5M0 1L0 9M10 1L10 9'
    """
    dx, dy = (0.0, TICK) if start[1] == end[1] and start[0] != end[0] else (TICK, 0.0)
    lines = [(start, end), *(((x - dx, y - dy), (x + dx, y + dy)) for x, y in (start, end))]
    return "".join(
        f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}" for (x1, y1), (x2, y2) in lines
    )
