"""SVG as text: elements, numbers, and the hatches that stand in for colours.

In: names, attributes and texts. Out: SVG in which every text is data. Hatches are lines of their
own, cut at the edge of their field: a pattern would need a reference, and an id that no other
picture of a page has.
"""

from __future__ import annotations

from html import escape
from math import ceil
from typing import TYPE_CHECKING, Literal

from markupsafe import Markup

from tailblock.report.plain import printable

if TYPE_CHECKING:
    from collections.abc import Iterable

INK = "#1c2329"
SOFT = "#4c565e"
CALM = "#dfe6e0"  # the ground of what is normal
WATCH_GROUND = "#fbf3dc"
WARN_GROUND = "#fbeee8"
CALM_EDGE = "#5c6b64"
WARN = "#8a2a12"
PAPER = "#ffffff"
WASH = "#f3f1ea"

Anchor = Literal["start", "middle", "end"]


def number(value: float) -> str:
    """Write a coordinate to a tenth.

    >>> number(12.34), number(12.0), number(-0.01)
    ('12.3', '12', '0')
    """
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def element(name: str, inner: str = "", **attributes: str | float | None) -> Markup:
    """Return an element.

    Parameters
    ----------
    inner
        Its text, which is escaped, or elements within it as `Markup`.
    attributes
        Their names with `_` for `-`, and one at the end where Python keeps the name for itself;
        those that are None are left out.

    >>> print(element("line", x1=0, stroke_width=1.5))
    <line x1="0" stroke-width="1.5"/>
    >>> print(element("text", "1 < 2", class_="a"))
    <text class="a">1 &lt; 2</text>
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_written(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    if not inner:
        return Markup(f"<{name}{written}/>")  # noqa: S704  (every part is escaped)
    return Markup(f"<{name}{written}>{_escaped(inner)}</{name}>")  # noqa: S704


def group(parts: Iterable[Markup]) -> Markup:
    """Return elements one behind the other."""
    return Markup().join(parts)


def label(
    x: float,
    y: float,
    text: str,
    *,
    size: float = 10.0,
    anchor: Anchor = "start",
    fill: str = INK,
    bold: bool = False,
) -> Markup:
    """Return a line of text whose baseline begins, has its middle, or ends at a point."""
    return element(
        "text",
        text,
        x=x,
        y=y,
        font_size=size,
        text_anchor=None if anchor == "start" else anchor,
        fill=fill,
        font_weight="bold" if bold else None,
    )


def hatch(
    left: float, top: float, width: float, height: float, *, gap: float, falling: bool = False
) -> str:
    """Return lines at 45 degrees that fill a field, as the data of a path.

    Parameters
    ----------
    gap
        From one line to the next, measured level.
    falling
        From the upper left to the lower right instead of rising.

    >>> hatch(0, 0, 10, 10, gap=8)
    'M0 8L8 0M6 10L10 6'
    """
    lines = []
    for step in range(1, ceil((width + height) / gap)):
        along = step * gap
        start = (0.0, along) if along <= height else (along - height, height)
        end = (along, 0.0) if along <= width else (width, along - width)
        ends = [(width - x, y) for x, y in (start, end)] if falling else [start, end]
        (x1, y1), (x2, y2) = ((left + x, top + y) for x, y in ends)
        lines.append(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}")
    return "".join(lines)


def _written(value: str | float) -> str:
    return escape(printable(value)) if isinstance(value, str) else number(value)


def _escaped(inner: str) -> str:
    return inner if isinstance(inner, Markup) else escape(printable(inner))
