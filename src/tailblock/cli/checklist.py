"""`lint`, `table` and `schema`: what a checklist holds, and what is wrong with it.

In: folders of checklists. Out: problems an editor can jump to, tables, a JSON Schema.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.boundary import FINE, FOUND_ERRORS
from tailblock.cli.options import Checklists, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.errors import Problem


class NoChecklistHere(TailblockError):
    """A folder holds no checklist."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        super().__init__(f"{folder}: no checklist here (a folder with a checklist.yaml is wanted)")


def lint(
    folder: Annotated[
        Path | None,
        typer.Argument(
            metavar="[DIR]",
            help="A checklist, or a folder of them; else all that are found.",
            show_default=False,
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Find what is wrong with a checklist; exit code 1 if there are errors."""
    from tailblock.cli.options import shelves
    from tailblock.cli.output import Screen, print_data

    known = shelves(checklists)
    folders = _folders(folder) if folder else [f for root in known.roots() for f in _folders(root)]
    problems = [problem for each in folders for problem in _problems(each, known)]
    found = sorted(set(problems))
    errors = [problem for problem in found if problem.severity == "error"]
    warnings = [problem for problem in found if problem.severity == "warning"]
    if as_json:
        print_data({"errors": [_data(p) for p in errors], "warnings": [_data(p) for p in warnings]})
    else:
        screen = Screen()
        for problem in found:
            screen.say(str(problem), "danger" if problem.severity == "error" else "plain")
        names = ", ".join(each.name for each in folders)
        screen.say(f"{names}: {_count(errors, 'error')}, {_count(warnings, 'warning')}", "title")
    raise typer.Exit(FOUND_ERRORS if errors else FINE)


def table(
    checklist: Annotated[
        str, typer.Argument(help="The id of a checklist, or its folder.")
    ] = "flat-top",
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """List what a checklist holds, section by section."""


def schema() -> None:
    """Print the JSON Schema of a checklist, for an editor."""


def _folders(root: Path) -> list[Path]:
    from tailblock.knowledge.library import checklists_in

    found = list(checklists_in(root))
    if not found:
        raise NoChecklistHere(root)
    return found


def _data(problem: Problem) -> dict[str, Any]:
    mend = f" ({problem.mend})" if problem.mend else ""
    return {
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
        "entry": problem.entry,
        "message": problem.message + mend,
    }


def _count(problems: list[Problem], word: str) -> str:
    return f"{len(problems)} {word}{'' if len(problems) == 1 else 's'}"
