"""`draw`: a part of a checklist, or the neighbourhood of a fault, as a picture.

In: a checklist and the id of a part or of a fault. Out: SVG or Mermaid text, on the screen or as a
file.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from tailblock.cli.checklist import ChecklistName, opened
from tailblock.cli.options import Checklists
from tailblock.errors import TailblockError


class OneOfTwo(TailblockError):
    """Both a part and a fault are given, or neither."""

    def __init__(self) -> None:
        super().__init__("draw: give --part PART or --fault FAULT, one of the two")


class Form(StrEnum):
    """The forms a graph can take."""

    SVG = "svg"
    MERMAID = "mermaid"


def draw(
    checklist: ChecklistName = "flat-top",
    *,
    part: Annotated[
        str, typer.Option(help="The id of a part: its faults, symptoms and their causes.")
    ] = "",
    fault: Annotated[
        str, typer.Option(help="The id of a fault: its causes, symptoms, checks and remedies.")
    ] = "",
    depth: Annotated[
        int, typer.Option(min=0, help="How many steps back along the causes it goes.")
    ] = 1,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", help="Where to; else the screen.")
    ] = None,
    form: Annotated[Form, typer.Option(help="The form of the picture.")] = Form.SVG,
    checklists: Checklists = None,
) -> None:
    """Draw what brings what about, in a part or around a fault."""
    from tailblock.inspection.write import put
    from tailblock.knowledge.graph import graph_of_fault, graph_of_part
    from tailblock.report.graph_mermaid import to_mermaid
    from tailblock.report.graph_svg import to_svg

    if bool(part) == bool(fault):
        raise OneOfTwo
    known = opened(checklist, checklists)
    graph = graph_of_part(known, part, depth) if part else graph_of_fault(known, fault, depth)
    drawn = {Form.SVG: to_svg, Form.MERMAID: to_mermaid}[form](graph)
    if output is None:
        typer.echo(drawn, nl=False)
        return
    put(output, drawn.encode())
    typer.echo(str(output))
