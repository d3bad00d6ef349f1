"""`walk`: the guided inspection in a terminal, or with answers from a pipe.

In: an inspection file and what a person says. Out: readings, each saved as it is given.
"""

from __future__ import annotations

from typing import Annotated

import typer

from tailblock.cli.options import Checklists, Date, File, Setups


def walk(
    file: File,
    *,
    stage: Annotated[
        str, typer.Option(help="Begin a new visit of this kind, as first-stringing.")
    ] = "",
    date: Date = "",
    by: Annotated[str, typer.Option(help="Who inspects on the new visit.")] = "",
    setup: Setups = None,
    teach: Annotated[
        bool, typer.Option("--teach", help="Say first what you would look at, and why.")
    ] = False,
    checklists: Checklists = None,
) -> None:
    """Go through the inspection check by check; every answer is saved at once."""
    from tailblock.cli.guide import Guide
    from tailblock.cli.options import pairs
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session

    session = Session.open(file, checklists)
    if stage:
        from tailblock.cli.visits import NewVisit, begin_visit

        begin_visit(session, NewVisit(stage, date, by, pairs("--setup", setup, "strings=slack")))
    elif date or by or setup:
        raise typer.BadParameter("say of which kind the new visit is", param_hint="--stage")
    session.require_open()
    screen, teacher = Screen(), None
    if teach:
        from tailblock.cli.teacher import Teacher

        teacher = Teacher(screen, session)
    Guide(screen, session, teacher).go()
