"""A graph as Mermaid text, for pages and notes that draw it themselves.

In: a `Graph`. Out: a flowchart as text. Every name is quoted, and its ids are made of the kind and
the entry's own id, so that none is a word of the language.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tailblock.report.plain import printable

if TYPE_CHECKING:
    from tailblock.knowledge.graph import Arrow, Box, Graph

_SHAPES = {
    "fault": ("[", "]"),
    "symptom": ("(", ")"),
    "check": ("{{", "}}"),
    "remedy": ("[[", "]]"),
}
_THICK = 0.6  # from *often* on


def to_mermaid(graph: Graph) -> str:
    """Return a graph as a Mermaid flowchart from left to right."""
    names = {box.id: f"{box.kind}_{box.id.replace('-', '_')}" for box in graph.boxes.values()}
    return "\n".join(
        [
            "flowchart LR",
            f"  accTitle: {_plain(graph.title)}",
            *(f"  {names[box.id]}{_shape(box)}" for box in graph.boxes.values()),
            *(
                f"  {names[arrow.source]} {_link(arrow)} {names[arrow.target]}"
                for arrow in graph.arrows
            ),
            "",
        ]
    )


def _shape(box: Box) -> str:
    left, right = _SHAPES[box.kind]
    return f'{left}"{_quoted(box.about)}<br>{_quoted(box.name)}"{right}'


def _link(arrow: Arrow) -> str:
    line = "-.->" if arrow.mends else "==>" if arrow.chance >= _THICK else "-->"
    return f'{line}|"{_quoted(arrow.word)}"|'


def _quoted(text: str) -> str:
    """Return a text for the inside of quotes: signs of the language as entities."""
    return re.sub(r'[#"&<>`]', lambda sign: f"#{ord(sign[0])};", _plain(text))


def _plain(text: str) -> str:
    return " ".join(printable(text).split())
