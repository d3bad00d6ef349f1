"""A graph as an SVG picture that needs nothing else.

In: a `Graph`. Out: the picture as text. What a box is stands in it in words; how strong an arrow is
shows in its weight and in a word beside its head, and what mends is dashed: nothing is told by
colour alone. On a dark screen the picture turns dark.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from tailblock.report.layers import BOX, LINE, lay_out
from tailblock.report.plain import printable

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.knowledge.graph import Graph
    from tailblock.report.layout import Layout, Path, Place

LEGEND = (
    "From left to right: an arrow brings about or shows, a dashed one mends.",
    "Its weight and its word say how often: at least the mildest sign, with nothing else there.",
)
_STYLE = """\
    svg { --paper: #ffffff; --ink: #1c1c1c; --quiet: #555555; --box: #f4f1ea; }
    @media (prefers-color-scheme: dark) {
      svg { --paper: #161616; --ink: #ececec; --quiet: #b0b0b0; --box: #262626; }
    }
    text { font: 13px sans-serif; fill: var(--ink); }
    .title { font-size: 17px; font-weight: bold; }
    .about, .legend { fill: var(--quiet); }
    .about { font-style: italic; }
    .word { font-size: 12px; text-anchor: end; stroke: var(--paper); stroke-width: 4px;
      paint-order: stroke; stroke-linejoin: round; }
    .paper { fill: var(--paper); }
    .box { fill: var(--box); stroke: var(--ink); }
    .main { stroke-width: 3px; }
    .line { fill: none; stroke: var(--quiet); }
    .mends { stroke-dasharray: 7 4; }
    .head { fill: var(--quiet); }"""
_ROUND = {"fault": 0, "symptom": 16, "check": 5, "remedy": 5}
_HEAD = 9.0  # length of the head of an arrow
_LETTER = 6.4  # mean width of a letter of an arrow's word


def to_svg(graph: Graph) -> str:
    """Return a graph as SVG, its size in pixels."""
    layout = lay_out(graph)
    size = f'width="{layout.width:.0f}" height="{layout.height:.0f}"'
    box = f'viewBox="0 0 {layout.width:.0f} {layout.height:.0f}"'
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" {box} {size} role="img">',
            f"  <title>{_text(graph.title)}</title>",
            f"  <style>\n{_STYLE}\n  </style>",
            f'  <rect class="paper" {size}/>',
            *_title(layout),
            *(line for path in layout.paths for line in _arrow(path)),
            *(line for place in layout.places for line in _box(place)),
            *(_word(path) for path in layout.paths),
            *_legend(layout),
            "</svg>\n",
        ]
    )


def _title(layout: Layout) -> Iterator[str]:
    for place, line in enumerate(layout.title):
        yield f'  <text class="title" x="24" y="{38 + 1.4 * LINE * place:.1f}">{_text(line)}</text>'


def _legend(layout: Layout) -> Iterator[str]:
    for place, line in enumerate(LEGEND):
        y = layout.height - 24 - LINE * (len(LEGEND) - 1 - place)
        yield f'  <text class="legend" x="24" y="{y:.1f}">{_text(line)}</text>'


def _box(place: Place) -> Iterator[str]:
    box = place.box
    main = " main" if box.main else ""
    yield (
        f'  <rect class="box{main}" x="{place.x:.1f}" y="{place.y:.1f}" width="{BOX:.1f}" '
        f'height="{place.height:.1f}" rx="{_ROUND[box.kind]}"/>'
    )
    first = place.y + (place.height - LINE * len(place.lines)) / 2 + 13
    about = _lines_of(box.about, place.lines)
    for number, line in enumerate(place.lines):
        style = ' class="about"' if number < about else ""
        yield (
            f'  <text{style} x="{place.x + 10:.1f}" y="{first + LINE * number:.1f}">'
            f"{_text(line)}</text>"
        )


def _lines_of(text: str, lines: tuple[str, ...]) -> int:
    """Return how many of the first lines a text takes up."""
    words = 0
    for number, line in enumerate(lines):
        if words >= len(text.split()):
            return number
        words += len(line.split())
    return len(lines)


def _arrow(path: Path) -> Iterator[str]:
    """Yield the line up to the word, what is left of it behind the word, and the head."""
    tip, y = path.points[-1]
    word = _word_end(path) - _LETTER * len(path.arrow.word) - 4
    drawn = f"{path.bends} H{word:.1f} M{_word_end(path) + 3:.1f},{y:.1f} H{tip - _HEAD:.1f}"
    mends = " mends" if path.arrow.mends else ""
    weight = 0.8 + 3.2 * path.arrow.chance
    half = 3.0 + weight / 2
    yield f'  <path class="line{mends}" stroke-width="{weight:.1f}" d="{drawn}"/>'
    head = f"M{tip:.1f},{y:.1f} l{-_HEAD:.1f},{-half:.1f} v{2 * half:.1f} z"
    yield f'  <path class="head" d="{head}"/>'


def _word(path: Path) -> str:
    y = path.points[-1][1] + 4
    word = _text(path.arrow.word)
    return f'  <text class="word" x="{_word_end(path):.1f}" y="{y:.1f}">{word}</text>'


def _word_end(path: Path) -> float:
    return path.points[-1][0] - _HEAD - 7


def _text(text: str) -> str:
    return escape(printable(text))
