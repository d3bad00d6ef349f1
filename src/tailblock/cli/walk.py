"""`walk`: the guided inspection in a terminal, or with answers from a pipe.

In: an inspection file and what a person says. Out: readings, each saved as it is given.
"""

from __future__ import annotations

from typing import Annotated

import typer

from tailblock.cli.options import Checklists, File


def walk(
    file: File,
    stage: Annotated[
        str, typer.Option(help="Begin a new visit of this kind today, as first-stringing.")
    ] = "",
    by: Annotated[str, typer.Option(help="Who inspects on the new visit.")] = "",
    checklists: Checklists = None,
) -> None:
    """Go through the inspection check by check; every answer is saved at once."""
    from tailblock.cli.guide import Guide
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session

    session = Session.open(file, checklists)
    if stage:
        session.new_visit(stage, by)
    Guide(Screen(), session).go()
