"""`drill`: an instrument with hidden faults to practise on, in a terminal or from a pipe.

In: a checklist with a seed, a level and a theme, or a closed case; what the apprentice says. Out: a
debrief, and if wanted a line in a file of progress.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tailblock.cli.checklist import ChecklistName
from tailblock.cli.options import Checklists
from tailblock.errors import TailblockError


class CaseIsGiven(TailblockError):
    """A closed case is given together with what draws one."""

    def __init__(self) -> None:
        super().__init__(
            "drill: --case is an instrument of its own (leave out --level and --theme)"
        )


class PlotWithoutProgress(TailblockError):
    """A plot is wanted, and nothing says of what."""

    def __init__(self) -> None:
        super().__init__("drill: --plot needs the file of the drills: --progress FILE")


def drill(
    checklist: ChecklistName = "flat-top",
    *,
    seed: Annotated[
        int | None,
        typer.Option(min=0, max=2**31, help="The same number makes the same case; else any."),
    ] = None,
    level: Annotated[
        int | None,
        typer.Option(
            min=1, max=3, help="One fault, two apart, or three that hide one another. [default: 1]"
        ),
    ] = None,
    theme: Annotated[
        str, typer.Option(help="part:PART, after:FAULT, climate, danger or harmless.")
    ] = "",
    case: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="A closed inspection to practise on, without names."),
    ] = None,
    progress: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Where drills are kept, a line each.")
    ] = None,
    plot: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Draw the progress so far as SVG, and drill nothing."),
    ] = None,
    checklists: Checklists = None,
) -> None:
    """Practise on an instrument whose faults are hidden; the score is measured, not awarded."""
    import secrets

    from tailblock.cli.checklist import opened
    from tailblock.cli.drill_talk import DrillTalk
    from tailblock.cli.options import finder, shelves
    from tailblock.cli.output import Screen
    from tailblock.pipeline import open_inspection
    from tailblock.practice.case_faults import LEVELS
    from tailblock.practice.cases import closed_case, draw_case
    from tailblock.practice.drill import Drill
    from tailblock.practice.progress import read

    if plot is not None:
        _plot(plot, progress)
        return
    if progress is not None:
        read(progress)  # what cannot be added to is said before the work, not after it
    number = secrets.randbelow(100_000) if seed is None else seed
    if case is None:
        known = opened(checklist, checklists)
        chosen = draw_case(known, number, LEVELS[(level or 1) - 1], theme)
    elif level is not None or theme:
        raise CaseIsGiven
    else:
        found = open_inspection(case, finder(shelves(checklists, case)))
        chosen = closed_case(*found, number)
    DrillTalk(Screen(), Drill(chosen), progress).go()


def _plot(plot: Path, progress: Path | None) -> None:
    from tailblock.inspection.write import put
    from tailblock.practice.progress import NothingToPlot, read, to_svg

    if progress is None:
        raise PlotWithoutProgress
    drills = read(progress)
    if not drills:
        raise NothingToPlot(progress)
    put(plot, to_svg(drills).encode())
    typer.echo(str(plot))
