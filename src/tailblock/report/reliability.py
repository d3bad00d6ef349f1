"""Was it there as often as was said? The reliability table as an SVG picture.

In: the rows of a table. Out: the picture as text, needing nothing else. Each row is a dot: what was
said to the right, how often it was there upward. A bar stands around what was said, and holds the
dot 19 times in 20 if the numbers are right (J. Broecker and L. A. Smith, "Increasing the
reliability of reliability diagrams", Weather and Forecasting 22 (2007), 651-661, draw such bars:
from memory; ours are two standard errors).
"""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.measures.scoring import Row

_SIDE = 400.0  # of the square from 0 to 100 %
_LEFT, _TOP = 76.0, 64.0
_WIDTH, _HEIGHT = _LEFT + _SIDE + 44.0, _TOP + _SIDE + 122.0
_TICKS = (0, 20, 40, 60, 80, 100)
_SMALLEST, _LARGEST = 3.5, 11.0  # radius of a dot
_ERRORS = 2.0  # standard errors on either side
_LETTERS = 15.0
_STYLE = """\
    svg { --paper: #ffffff; --ink: #1c1c1c; --quiet: #555555; --line: #bdb7aa; --dot: #1f5a8a; }
    @media (prefers-color-scheme: dark) {
      svg { --paper: #161616; --ink: #ececec; --quiet: #b0b0b0; --line: #55524b; --dot: #7fb6e0; }
    }
    text { font: 13px sans-serif; fill: var(--ink); }
    .title { font-size: 17px; font-weight: bold; }
    .quiet { fill: var(--quiet); }
    .count { font-size: 12px; stroke: var(--paper); stroke-width: 3px; paint-order: stroke; }
    .paper { fill: var(--paper); }
    .frame, .right { fill: none; stroke: var(--line); }
    .right { stroke-dasharray: 5 4; }
    .bar { stroke: var(--quiet); stroke-width: 2px; }
    .dot { fill: var(--dot); fill-opacity: 0.85; }"""
_TITLE = "Was it there as often as was said?"
_LEGEND = (
    "A dot is a row of the table, beside it how many confirmations it has. A bar",
    "holds its dot 19 times in 20 if the numbers are right. Below the broken line",
    "less was there than was said, above it more.",
)


def to_svg(rows: Sequence[Row]) -> str:
    """Return the picture, its size in pixels; without rows an empty square."""
    size = f'width="{_WIDTH:.0f}" height="{_HEIGHT:.0f}"'
    box = f'viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}"'
    told = "; ".join(
        f"said {100 * row.said:.0f} %, there {100 * row.seen:.0f} % of {row.count}" for row in rows
    )
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" {box} {size} role="img">',
            f"  <title>{_TITLE}</title>",
            f"  <desc>{told or 'nothing was confirmed yet'}</desc>",
            f"  <style>\n{_STYLE}\n  </style>",
            f'  <rect class="paper" {size}/>',
            f'  <text class="title" x="{_LEFT:.0f}" y="36">{_TITLE}</text>',
            *_square(),
            *(line for row in rows for line in _bar(row)),
            *(line for row in rows for line in _dot(row, max(row.count for row in rows))),
            *(
                f'  <text class="quiet" x="24" y="{_TOP + _SIDE + 78 + 17 * at:.0f}">{line}</text>'
                for at, line in enumerate(_LEGEND)
            ),
            "</svg>\n",
        ]
    )


def _square() -> Iterator[str]:
    yield f'  <rect class="frame" x="{_x(0)}" y="{_y(1)}" width="{_SIDE}" height="{_SIDE}"/>'
    yield f'  <path class="right" d="M{_x(0)} {_y(0)}L{_x(1)} {_y(1)}"/>'
    for tick in _TICKS:
        at = tick / 100
        yield f'  <path class="frame" d="M{_x(at)} {_y(0)}v5M{_x(0)} {_y(at)}h-5"/>'
        yield f'  <text x="{_x(at)}" y="{_y(0) + 20}" text-anchor="middle">{tick} %</text>'
        yield f'  <text x="{_x(0) - 10}" y="{_y(at) + 4.5}" text-anchor="end">{tick} %</text>'
    yield (
        f'  <text x="{_x(0.5)}" y="{_y(0) + 44}" text-anchor="middle">'
        "said: how probable it was just before somebody looked</text>"
    )
    yield (
        f'  <text transform="translate(20 {_y(0.5)}) rotate(-90)" text-anchor="middle">'
        "seen: how often it was there</text>"
    )


def _bar(row: Row) -> Iterator[str]:
    """Yield the bar of a row, with feet, within the square."""
    low = max(row.said - _ERRORS * row.error, 0.0)
    high = min(row.said + _ERRORS * row.error, 1.0)
    x = _x(row.said)
    yield f'  <path class="bar" d="M{x} {_y(low)}V{_y(high)}m-4 0h8M{x - 4} {_y(low)}h8"/>'


def _dot(row: Row, most: int) -> Iterator[str]:
    radius = max(_SMALLEST, _LARGEST * sqrt(row.count / most))
    x, y = _x(row.said), _y(row.seen)
    yield f'  <circle class="dot" cx="{x}" cy="{y}" r="{radius:.1f}"/>'
    beyond = x + radius + 4 + _LETTERS > _x(1)
    at, anchor = (x - radius - 4, "end") if beyond else (x + radius + 4, "start")
    place = f'x="{at:.1f}" y="{y + 4:.1f}" text-anchor="{anchor}"'
    yield f'  <text class="count" {place}>{row.count}</text>'


def _x(share: float) -> float:
    return round(_LEFT + share * _SIDE, 1)


def _y(share: float) -> float:
    return round(_TOP + (1.0 - share) * _SIDE, 1)
