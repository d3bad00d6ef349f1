"""A report as an outline: titles, paragraphs, lists, tables, boxes, for what sets pages.

In: nothing; `outline_player` and `outline_bench` make these. Out: frozen blocks, in the order of
the pages. Every text is plain text.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from markupsafe import Markup

    from tailblock.report.pictures.picture import Picture

Style = Literal["plain", "strong", "small", "struck", "lead"]
Tone = Literal["plain", "warn", "calm"]


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text of one style."""

    text: str
    style: Style = "plain"


Line = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Title:
    """A heading; levels 1 to 4. Levels 1 and 2 are bookmarked."""

    level: int
    line: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph; `leads` keeps it on the page of what follows."""

    line: Line
    leads: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list, numbered or not."""

    lines: tuple[Line, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture: a whole SVG, in which every text is escaped, its width on paper [mm], its words.

    `leads` keeps it on the page of what follows. One with a `caption` may move to an end of a page,
    so that it leaves no room empty.
    """

    svg: Markup
    width: float
    text: str
    leads: bool = False
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of a table: lines, one under the other, and a drawing below them."""

    lines: tuple[Line, ...]
    drawing: Drawn | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """A row; its single cell lies across all columns where it `heads` what follows or is a note."""

    cells: tuple[Cell, ...]
    role: Literal["row", "heads", "note"] = "row"


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose head is repeated on every page; `widths` are shares of the page's width."""

    head: tuple[str, ...]
    widths: tuple[int, ...]
    rows: tuple[Row, ...]
    summary: str  # for those who do not see it


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with what stands beside them; `leads` keeps them on the page of what follows."""

    rows: tuple[tuple[str, Line], ...]
    leads: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """Blocks within a frame that is not broken over pages unless it is very long."""

    blocks: tuple[Block, ...]
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a shop's papers.

    `alt` says what its logo shows, empty if it has none; `ratio` is its width over its height.
    """

    name: str
    address: str
    alt: str
    ratio: float


@dataclass(frozen=True, slots=True)
class Shot:
    """A photograph: the name under which its picture is handed over, empty if there is none.

    `width` and `height` are its pixels, `alt` says what it shows, `lines` stand below it.
    """

    picture: str
    width: int
    height: int
    alt: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Shots:
    """Photographs, two beside one another."""

    shots: tuple[Shot, ...]


@dataclass(frozen=True, slots=True)
class Columns:
    """Two groups of blocks side by side."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """The end of a page."""


Block = Title | Paragraph | Items | Table | Facts | Box | Head | Shots | Columns | Drawn | NewPage


def plain(text: str) -> Line:
    """Return a line of one style."""
    return (Run(text),)


def small(text: str) -> Line:
    """Return a line in small letters."""
    return (Run(text, "small"),)


def strong(text: str) -> Line:
    """Return a line in bold letters."""
    return (Run(text, "strong"),)


def paragraphs(*texts: str) -> tuple[Paragraph, ...]:
    """Return a paragraph for each text that is not empty."""
    return tuple(Paragraph(plain(text)) for text in texts if text)


def leading(text: str) -> Paragraph:
    """Return a paragraph that stays with what follows."""
    return Paragraph(plain(text), leads=True)


def items(texts: tuple[str, ...], *, numbered: bool = False) -> tuple[Items, ...]:
    """Return texts as one list, or nothing if there are none."""
    return (Items(tuple(plain(text) for text in texts), numbered),) if texts else ()


def drawn(picture: Picture, width: float, *, leads: bool = False) -> Drawn:
    """Return a picture as wide as that on paper [mm]."""
    return Drawn(picture.alone(), width, f"{picture.title}. {picture.text}", leads)


def floating(picture: Picture, width: float) -> Drawn:
    """Return a picture with its title below it, which may move to an end of a page."""
    return replace(drawn(picture, width), caption=picture.title)


def cell(*texts: str) -> Cell:
    """Return a cell with the texts under one another, those after the first in small letters."""
    shown = [text for text in texts if text]
    return Cell(tuple(plain(text) if not at else small(text) for at, text in enumerate(shown)))
