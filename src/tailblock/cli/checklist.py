"""`lint`, `table` and `schema`: what a checklist holds, and what is wrong with it.

In: folders of checklists. Out: problems an editor can jump to, tables, a JSON Schema.
"""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.boundary import FINE, FOUND_ERRORS
from tailblock.cli.options import Checklists, Json, NotAFolder, shelves
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves
    from tailblock.knowledge.table import Fact


ChecklistName = Annotated[
    str, typer.Argument(metavar="[CHECKLIST]", help="The id of a checklist, or its folder.")
]


class Kind(StrEnum):
    """The kinds of entries that a table can list."""

    FAULT = "fault"
    SYMPTOM = "symptom"
    CHECK = "check"
    REMEDY = "remedy"
    CAUTION = "caution"
    SOURCE = "source"


class PagesHoldAll(TailblockError):
    """Pages are asked for together with a choice that only a list has."""

    def __init__(self) -> None:
        super().__init__("--pages writes all kinds as Markdown (leave out --kind and --json)")


class NoChecklistHere(TailblockError):
    """A folder holds no checklist."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        super().__init__(f"{folder}: no checklist here (a folder with a checklist.yaml is wanted)")


def lint(
    checklist: Annotated[
        str | None,
        typer.Argument(
            metavar="[CHECKLIST]",
            help="The id of a checklist, its folder, or a folder of them; else all that are found.",
            show_default=False,
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Find what is wrong with a checklist; exit code 1 if there are errors."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.knowledge.library import checklists_in

    where = shelves(checklists)
    if checklist:
        folders = _named(checklist, where)
    else:
        folders = [each for root in where.roots() for each in checklists_in(root)]
    found = sorted({problem for each in folders for problem in _problems(each, where)})
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
    checklist: ChecklistName = "flat-top",
    kind: Annotated[
        list[Kind] | None, typer.Option(help="Only entries of this kind; may be repeated.")
    ] = None,
    pages: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Write all of it as Markdown pages into a folder."),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """List what a checklist holds, kind by kind, or write it as pages."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.knowledge.table import KINDS, rows

    if pages is not None and (kind or as_json):
        raise PagesHoldAll
    known = opened(checklist, checklists)
    if pages is not None:
        typer.echo(str(_write_pages(known, pages)))
        return
    found = rows(known, [str(each) for each in kind] if kind else KINDS)
    if as_json:
        print_data(
            {
                "checklist": known.id,
                "version": known.version,
                "rows": [asdict(row) for row in found],
            }
        )
        return
    screen = Screen()
    screen.say(f"{known.title} ({known.id} {known.version})", "title")
    for name in dict.fromkeys(row.kind for row in found):
        of_kind = [row for row in found if row.kind == name]
        screen.say()
        screen.say(f"{name} ({len(of_kind)})", "title")
        for row in of_kind:
            part = f", {row.part}" if row.part else ""
            screen.say(f"{row.id}{part}: {row.name}", indent=2)
            screen.say(_facts(row.facts), "quiet", indent=6)


def schema(
    *,
    report: Annotated[
        bool, typer.Option("--report", help="That of a report as JSON, for a program.")
    ] = False,
) -> None:
    """Print the JSON Schema of a checklist, for an editor."""
    if report:
        from tailblock.report.schema import json_schema
    else:
        from tailblock.knowledge.schema import json_schema

    typer.echo(json.dumps(json_schema(), ensure_ascii=False, indent=2))


def _write_pages(checklist: Checklist, folder: Path) -> Path:
    """Write the pages of a checklist over older ones, and return the first."""
    from tailblock.inspection.write import put
    from tailblock.report.checklist_pages import INDEX, pages

    if folder.exists() and not folder.is_dir():
        raise NotAFolder(folder)
    for name, text in pages(checklist).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        put(path, text.encode())
    return folder / INDEX


def opened(checklist: str, checklists: Path | None) -> Checklist:
    """Return the checklist of an id, or of a folder.

    Raises
    ------
    NoChecklistHere
        It is a folder, and there is no checklist in it.
    ChecklistNotFound, ProblemsFound
    """
    from tailblock.knowledge.ready import open_checklist

    return open_checklist(*checklist_at(checklist, shelves(checklists)))


def checklist_at(checklist: str, where: Shelves) -> tuple[str, Shelves]:
    """Return the id of a checklist and where to look for it, from its id or its folder.

    Raises
    ------
    NoChecklistHere
        It is a folder, and there is no checklist in it.
    """
    if not Path(checklist).is_dir():
        return checklist, where
    folder = _folders(Path(checklist))[0]
    return folder.resolve().name, replace(where, given=folder)


def _named(checklist: str, where: Shelves) -> list[Path]:
    """Return the folders of a checklist, from its id, its folder or a folder of several."""
    given = Path(checklist)
    is_a_path = given.exists() or given.name != checklist
    return _folders(given) if is_a_path else [where.find(checklist)]


def _folders(root: Path) -> list[Path]:
    """Return the checklists in a folder; one that holds none is a mistake."""
    from tailblock.knowledge.library import checklists_in

    if not root.is_dir():
        raise NotAFolder(root)
    found = list(checklists_in(root))
    if not found:
        raise NoChecklistHere(root)
    return found


def _problems(folder: Path, where: Shelves) -> tuple[Problem, ...]:
    """Return what is wrong in the files of a checklist, and if they can be read, between them."""
    from tailblock.knowledge.lint import lint as judge
    from tailblock.knowledge.loader import load

    loaded = load(folder, where)
    between = judge(loaded.checklist) if loaded.checklist else ()
    return (*loaded.problems, *between)


def _facts(facts: Mapping[str, Fact]) -> str:
    return ", ".join(
        f"{name.replace('_', ' ')} {' '.join(fact) if isinstance(fact, tuple) else fact}"
        for name, fact in facts.items()
        if fact != ()
    )


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
