"""A card as SVG for one printed sheet: the tree as an outline, the traps under it.

In: a `Card`. Out: SVG as text, black on white, as large as an upright A4 sheet less its margins;
letters are as large as the sheet allows. An outline and not boxes side by side: a line holds an
answer with what it leads to, so that a tree of five checks still fits. Whoever wants a PDF prints
it with a browser, which takes the sheet from the style.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from tailblock.practice import card_words as words
from tailblock.practice.card import Step
from tailblock.report.plain import printable
from tailblock.report.wording import percent

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.practice.card import Branch, Card, Stop

_WIDE, _TALL = 190.0, 277.0  # mm: A4 less 10 mm on each side
_LEAST, _MOST = 560, 1100  # pixels that the width of the sheet may stand for
_LINE, _IN, _LETTER = 14.5, 20.0, 5.9  # height of a line, indent, mean width of a letter [px]
_STYLE = (
    "@page{size:A4;margin:10mm}svg{display:block}"
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


def to_svg(card: Card) -> str:
    """Return a card as SVG, its size in millimetres."""
    width = _LEAST
    while (lines := _lines(card, width)) and _height(lines) * _WIDE > _TALL * width:
        if width >= _MOST:
            break
        width += 20
    height = max(_height(lines), width * _TALL / _WIDE)
    size = f'width="{_WIDE:g}mm" height="{_TALL:g}mm" viewBox="0 0 {width} {height:.0f}"'
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img">',
            f"<title>{_text(words.heading(card))}</title>",
            f"<style>{_STYLE}</style>",
            '<rect width="100%" height="100%" fill="#fff"/>',
            *_rails(lines),
            *(_written(line, number) for number, line in enumerate(lines)),
            "</svg>\n",
        ]
    )


def _height(lines: list[_Line]) -> float:
    return 30 + _LINE * len(lines)


def _lines(card: Card, width: float) -> list[_Line]:
    """Return the lines of the sheet if it is so many pixels wide."""
    lines = list(_wrapped("title", words.heading(card), width * 11 / 17))
    for text in (words.known(card), words.before(card), words.summary(card)):
        lines.extend(_wrapped("", text, width))
    lines.append(_Line(()))
    if isinstance(card.root, Step):
        text = words.step_words(card, card.root, card.root.setup)
        lines.append(_Line((("step", text),)))
        _branch_out(card, card.root, 1, width, lines)
    else:
        lines.append(_Line((("", "; ".join(words.stop_words(card, card.root))),)))
    lines.append(_Line(()))
    lines.extend(_foot(card, width))
    return lines


def _branch_out(card: Card, step: Step, depth: int, width: float, lines: list[_Line]) -> None:
    """Put what a step leads to behind the lines."""
    own = len(lines) - 1
    for branch in step.branches:
        said = f"{words.answer_words(card, step, branch)}, {percent(branch.chance)}: "
        pieces = [("said", said)]
        if branch.slacken:
            pieces.append(("danger", f"{words.slacken_words(card, branch.slacken)} "))
        pieces.extend(_leads_to(card, branch, step.setup))
        first, *more = _broken(pieces, width - _IN * (depth + 1))
        lines.append(_Line(first, depth, own))
        lines.extend(_Line(line, depth + 1) for line in more)
        if isinstance(branch.then, Step):
            _branch_out(card, branch.then, depth + 1, width, lines)


def _leads_to(card: Card, branch: Branch, setup: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    then: Step | Stop = branch.then
    if isinstance(then, Step):
        yield "step", words.step_words(card, then, setup)
    else:
        yield "", "; ".join(words.stop_words(card, then))


def _broken(pieces: list[tuple[str, str]], width: float) -> Iterator[tuple[tuple[str, str], ...]]:
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


def _foot(card: Card, width: float) -> Iterator[_Line]:
    found = tuple(words.traps(card))
    if found:
        yield _Line((("step", "Traps"),))
    for title, trap in found:
        for number, line in enumerate(_broken([("said", f"{title}:"), ("", trap)], width - _IN)):
            yield _Line(line, min(number, 1))
    if words.why_this_order(card):
        yield _Line((("step", "Why a visit begins as it does"),))
        yield from _wrapped("", words.why_this_order(card), width)


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
