"""`cards`: a diagnostic order for the wall over the bench, for a complaint or a part.

In: a checklist and the id of a complaint or of a part. Out: SVG for one sheet, or Markdown.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from tailblock.cli.checklist import ChecklistName
from tailblock.cli.options import Checklists
from tailblock.errors import TailblockError


class ComplaintOrPart(TailblockError):
    """Both a complaint and a part are given, or neither."""

    def __init__(self) -> None:
        super().__init__("cards: give --complaint ID or --part PART, one of the two")


class Form(StrEnum):
    """The forms a card can take."""

    SVG = "svg"
    MARKDOWN = "md"


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
    form: Annotated[Form, typer.Option(help="SVG for one sheet, or Markdown.")] = Form.SVG,
    checklists: Checklists = None,
) -> None:
    """Print which check comes first, what each answer leads to, and where to stop."""
    from tailblock.cli.begin import traits_given
    from tailblock.cli.checklist import opened
    from tailblock.inspection.write import put
    from tailblock.practice.card import card_of_complaint, card_of_part
    from tailblock.practice.card_markdown import to_markdown
    from tailblock.practice.card_svg import to_svg

    if bool(complaint) == bool(part):
        raise ComplaintOrPart
    known = opened(checklist, checklists)
    given = traits_given(trait, known)
    about = complaint or part
    make = card_of_complaint if complaint else card_of_part
    text = {Form.SVG: to_svg, Form.MARKDOWN: to_markdown}[form](make(known, about, depth, given))
    if output is None:
        typer.echo(text, nl=False)
        return
    put(output, text.encode())
    typer.echo(str(output))
