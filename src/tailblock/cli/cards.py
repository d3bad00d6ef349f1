"""`cards`: a diagnostic order for the wall over the bench, for a complaint or a part.

In: a checklist and the id of a complaint or of a part. Out: PDF or SVG for one sheet, or Markdown.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.checklist import ChecklistName
from tailblock.cli.options import Checklists
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.practice.card import Card


class ComplaintOrPart(TailblockError):
    """Both a complaint and a part are given, or neither."""

    def __init__(self) -> None:
        super().__init__("cards: give --complaint ID or --part PART, one of the two")


class Form(StrEnum):
    """The forms a card can take."""

    SVG = "svg"
    PDF = "pdf"
    MARKDOWN = "md"


class Paper(StrEnum):
    """The sheets that a card can be printed on."""

    A4 = "a4"
    LETTER = "letter"


class NotOnTheScreen(TailblockError):
    """A PDF is asked for, and no place to put it."""

    def __init__(self) -> None:
        super().__init__("cards: a PDF goes into a file (give --output FILE)")


def cards(
    checklist: ChecklistName = "flat-top",
    *,
    complaint: Annotated[str, typer.Option(help="What the player complains of, by its id.")] = "",
    part: Annotated[str, typer.Option(help="The id of a part.")] = "",
    depth: Annotated[
        int, typer.Option(min=3, max=5, help="How many checks follow each other at most.")
    ] = 4,
    trait: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME=VALUE", help="What is known of the instrument; else averaged."),
    ] = None,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", help="Where to; else the screen.")
    ] = None,
    form: Annotated[
        Form | None,
        typer.Option(help="PDF or SVG for one sheet, or Markdown; else as FILE ends, SVG."),
    ] = None,
    paper: Annotated[Paper, typer.Option(help="The sheet of a PDF or SVG.")] = Paper.A4,
    checklists: Checklists = None,
) -> None:
    """Print which check comes first, what each answer leads to, and where to stop."""
    from tailblock.cli.begin import traits_given
    from tailblock.cli.checklist import opened
    from tailblock.inspection.write import put
    from tailblock.practice.card_making import card_of_complaint, card_of_part

    if bool(complaint) == bool(part):
        raise ComplaintOrPart
    form = form or _by_ending(output)
    if form is Form.PDF and output is None:
        raise NotOnTheScreen
    known = opened(checklist, checklists)
    given = traits_given(trait, known)
    about = complaint or part
    make = card_of_complaint if complaint else card_of_part
    made = _rendered(make(known, about, depth, given), form, paper)
    if output is None:
        typer.echo(made.decode(), nl=False)
        return
    put(output, made)
    typer.echo(str(output))


def _by_ending(output: Path | None) -> Form:
    """Return the form that the name of a file asks for, SVG if none."""
    endings = {f".{form.value}": form for form in Form}
    return endings.get(output.suffix.lower() if output else "", Form.SVG)


def _rendered(card: Card, form: Form, paper: Paper) -> bytes:
    """Return a card in a form; a renderer is imported only where it is used."""
    from tailblock.practice.card_outline import A4, LETTER

    sheet = LETTER if paper is Paper.LETTER else A4
    if form is Form.PDF:
        from tailblock.practice.card_pdf import to_pdf

        return to_pdf(card, sheet)
    if form is Form.SVG:
        from tailblock.practice.card_svg import to_svg

        return to_svg(card, sheet).encode()
    from tailblock.practice.card_markdown import to_markdown

    return to_markdown(card).encode()
