"""A card as SVG for one printed sheet: the tree as an outline, the traps under it.

In: a `Card`. Out: SVG as text, black on white, as large as an upright sheet less its margins;
letters are as large as the sheet allows.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from tailblock.practice.card_outline import A4, outline
from tailblock.report.plain import printable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.practice.card import Card
    from tailblock.practice.card_outline import Answer, Outline, Pieces

_MARGIN = 10.0  # mm, on each side
_LEAST, _MOST = 560, 1100  # pixels that the width of the sheet may stand for
_LINE, _IN, _LETTER = 14.5, 20.0, 5.9  # height of a line, indent, mean width of a letter [px]
_STYLE = (
    "@page{size:%gmm %gmm;margin:%gmm}svg{display:block}"
    "text{font:11px sans-serif;fill:#000}.title{font-size:17px;font-weight:bold}"
    ".step{font-weight:bold}.said{font-style:italic}.danger{font-weight:bold;fill:#a00000}"
    ".rail{fill:none;stroke:#888}"
)


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the sheet: pieces of text with their style, set in by so many steps.

    `rail`: the number of the line to whose check it answers, None for no answer.
    """

    pieces: tuple[tuple[str, str], ...]
    depth: int = 0
    rail: int | None = None


def to_svg(card: Card, paper: tuple[float, float] = A4) -> str:
    """Return a card as SVG, its size in millimetres.

    Parameters
    ----------
    paper
        Width and height of the sheet [mm].
    """
    wide, tall = (side - 2 * _MARGIN for side in paper)
    said = outline(card)
    width = _LEAST
    while (lines := _lines(said, width)) and _height(lines) * wide > tall * width:
        if width >= _MOST:
            break
        width += 20
    height = max(_height(lines), width * tall / wide)
    size = f'width="{wide:g}mm" height="{tall:g}mm" viewBox="0 0 {width} {height:.0f}"'
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img">',
            f"<title>{_text(said.title)}</title>",
            f"<style>{_STYLE % (*paper, _MARGIN)}</style>",
            '<rect width="100%" height="100%" fill="#fff"/>',
            *_rails(lines),
            *(_written(line, number) for number, line in enumerate(lines)),
            "</svg>\n",
        ]
    )


def _height(lines: list[_Line]) -> float:
    return 30 + _LINE * len(lines)


def _lines(said: Outline, width: float) -> list[_Line]:
    """Return the lines of the sheet if it is so many pixels wide."""
    lines = list(_wrapped("title", said.title, width * 11 / 17))
    for text in said.lead:
        lines.extend(_wrapped("", text, width))
    lines.append(_Line(()))
    lines.append(_Line(said.first))
    _branch_out(said.answers, 1, width, lines)
    lines.append(_Line(()))
    lines.extend(_foot(said, width))
    return lines


def _branch_out(answers: Sequence[Answer], depth: int, width: float, lines: list[_Line]) -> None:
    """Put the answers to the check of the last line behind the lines, with all below them."""
    own = len(lines) - 1
    for answer in answers:
        first, *more = _broken(answer.text, width - _IN * (depth + 1))
        lines.append(_Line(first, depth, own))
        lines.extend(_Line(line, depth + 1) for line in more)
        _branch_out(answer.below, depth + 1, width, lines)


def _broken(pieces: Pieces, width: float) -> Iterator[tuple[tuple[str, str], ...]]:
    """Yield lines of styled words that fit into so many pixels."""
    line: list[tuple[str, str]] = []
    room = width
    for style, text in pieces:
        wide = _LETTER * (1.12 if style in ("step", "danger") else 1.0)  # bold letters are wider
        for word in filter(None, text.split(" ")):  # what stands together stays together
            if line and room < wide * len(word):
                yield tuple(line)
                line, room = [], width
            before = f"{line.pop()[1]} " if line and line[-1][0] == style else ""
            line.append((style, before + word))
            room -= wide * (len(word) + 1)
    yield tuple(line)


def _foot(said: Outline, width: float) -> Iterator[_Line]:
    if said.traps:
        yield _Line((("step", "Traps"),))
    for title, trap in said.traps:
        for number, line in enumerate(_broken((("said", f"{title}:"), ("", trap)), width - _IN)):
            yield _Line(line, min(number, 1))
    if said.why:
        yield _Line((("step", "Why a visit begins as it does"),))
        yield from _wrapped("", said.why, width)


def _wrapped(style: str, text: str, width: float) -> Iterator[_Line]:
    for line in textwrap.wrap(text, int((width - 10) / _LETTER)):
        yield _Line(((style, line),))


def _y(number: int) -> float:
    return 22 + _LINE * number


def _rails(lines: list[_Line]) -> Iterator[str]:
    """Yield a rail from each check down to its answers."""
    for number, line in enumerate(lines):
        if line.rail is not None:
            x, y = _IN * (line.depth - 1) + 8, _y(number) - 4
            yield f'<path class="rail" d="M{x:g},{_y(line.rail) + 4:g} V{y:g} h{_IN - 8:g}"/>'


def _written(line: _Line, number: int) -> str:
    spans = "".join(
        f'<tspan class="{style}">{_text(text)} </tspan>' if style else f"{_text(text)} "
        for style, text in line.pieces
    )
    x = 4 + _IN * line.depth
    return f'<text x="{x:g}" y="{_y(number):g}">{spans.rstrip()}</text>' if spans else ""


def _text(text: str) -> str:
    return escape(printable(text))
