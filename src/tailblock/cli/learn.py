"""`learn`: how often what was thought probable was there, and which chances the cases would change.

In: a folder of inspections with confirmed faults. Out: a reliability table, its plot and scores,
and proposed chances, as text or as JSON in a shape that is a contract. What is proposed is written
only on request, as a checklist of its own that a person reviews.
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.options import Checklists, Json, NotAFolder, finder, shelves
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.errors import Problem
    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves
    from tailblock.learning.lessons import Lesson
    from tailblock.learning.proposals import Chance
    from tailblock.measures.scoring import Forecast


class WhichChecklist(TailblockError):
    """A proposal is wanted, and it is not clear for which checklist."""

    def __init__(self, taught: Sequence[str], asked: str) -> None:
        self.taught = tuple(taught)
        if not taught:
            super().__init__(
                "--propose: no case is confirmed yet, and nothing can be learned "
                "(`tailblock confirm FILE --present FAULT` writes what was seen in the end)"
            )
            return
        which = f"no case of {asked!r} is confirmed" if asked else "the cases are of several"
        known = ", ".join(taught)
        super().__init__(f"--for: {which} (confirmed cases are of: {known})")


def learn(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder with inspections.", show_default=False)
    ],
    *,
    plot: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Draw the reliability table, as SVG, into this file."),
    ] = None,
    propose: Annotated[
        Path | None,
        typer.Option(
            metavar="FOLDER", help="Write what is proposed as a checklist to review; made anew."
        ),
    ] = None,
    extends: Annotated[
        str, typer.Option("--for", metavar="ID", help="The checklist that --propose extends.")
    ] = "",
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Compare what was thought probable with what was confirmed; propose chances."""
    from tailblock.cli.learn_screen import show_calibration, show_lesson
    from tailblock.cli.output import Screen, print_data
    from tailblock.inspection.write import put
    from tailblock.learning.lessons import lessons
    from tailblock.learning.overlay import require_free
    from tailblock.measures.scoring import reliability_table
    from tailblock.report.reliability import to_svg

    if not folder.is_dir():
        raise NotAFolder(folder)
    if propose:
        require_free(propose)
    where = shelves(checklists, folder / "any")
    read = _Read(folder, where)
    taught, unused = lessons(read.cases)
    left_out = [*read.left_out, *(str(error).splitlines()[0] for _, error in unused)]
    problems = _propose(taught, propose, extends, where) if propose else ()
    if plot:
        put(plot, to_svg(reliability_table(read.forecasts)).encode())
    if as_json:
        print_data(
            {
                **_calibration(read.forecasts, len(read.cases)),
                "learned": [_lesson(lesson) for lesson in taught],
                "left_out": left_out,
            }
        )
        return
    screen = Screen()
    for line in left_out:
        screen.say(f"left out: {line}", "danger")
    show_calibration(screen, read.forecasts, len(read.cases))
    for lesson in taught:
        show_lesson(screen, lesson)
    for path in (plot, propose):
        if path:
            screen.say(str(path))
    for problem in problems:
        screen.say(str(problem), "danger")


class _Read:
    """The confirmed cases of a folder with what was foreseen, and what cannot be used."""

    def __init__(self, folder: Path, where: Shelves) -> None:
        from tailblock.cli.progress import going_through
        from tailblock.inspection.book import files_of
        from tailblock.pipeline import foreseen, open_inspection

        find = finder(where)
        self.cases: list[tuple[Checklist, Inspection]] = []
        self.forecasts: list[Forecast] = []
        self.left_out: list[str] = []
        for name, _ in going_through("Inspections")(sorted(files_of(folder))):
            try:
                case = open_inspection(folder / name, find)
                found = foreseen(*case)
            except TailblockError as error:
                self.left_out.append(str(error).splitlines()[0])
                continue
            if found:
                self.cases.append(case)
            self.forecasts += [(probability, present) for _, probability, present in found]


def _propose(
    taught: Sequence[Lesson], folder: Path, extends: str, where: Shelves
) -> tuple[Problem, ...]:
    """Write the proposal for one checklist, and return what lint finds in it and not in that one.

    Raises
    ------
    WhichChecklist
    """
    from tailblock.knowledge.lint import lint
    from tailblock.knowledge.loader import load
    from tailblock.learning.fit import STRENGTH
    from tailblock.learning.overlay import overlay, write_overlay

    mine = [lesson for lesson in taught if lesson.checklist.id == extends or not extends]
    if len(mine) != 1:
        raise WhichChecklist([lesson.checklist.id for lesson in taught], extends)
    (lesson,) = mine
    changes = [chance for chance in lesson.chances if chance.proposed]
    text = overlay(lesson.checklist, folder.name, changes, cases=lesson.cases, strength=STRENGTH)
    write_overlay(folder, text)
    loaded = load(folder, where)
    if loaded.checklist is None:
        return loaded.problems
    before = {(found.entry, found.rule, found.message) for found in lint(lesson.checklist)}
    return tuple(
        found
        for found in lint(loaded.checklist)
        if (found.entry, found.rule, found.message) not in before
    )


def _calibration(forecasts: Sequence[Forecast], cases: int) -> dict[str, Any]:
    from tailblock.measures.scoring import brier_parts, log_loss, reliability_table

    return {
        "cases": cases,
        "confirmations": len(forecasts),
        "table": [asdict(row) for row in reliability_table(forecasts)],
        "brier": asdict(brier_parts(forecasts)) if forecasts else None,
        "log_loss": log_loss(forecasts) if forecasts else None,
    }


def _lesson(lesson: Lesson) -> dict[str, Any]:
    from tailblock.learning.fit import INTERVAL, STRENGTH
    from tailblock.learning.proposals import LEAST_TRIALS

    return {
        "checklist": lesson.checklist.id,
        "cases": lesson.cases,
        "word_worth_trials": STRENGTH,
        "least_trials": LEAST_TRIALS,
        "interval": INTERVAL,
        "chances": [_chance(chance) for chance in lesson.chances],
    }


def _chance(chance: Chance) -> dict[str, Any]:
    from tailblock.knowledge.words import word_for

    return {
        "entry": chance.written.entry,
        "says": chance.says,
        "before": chance.before,
        "word_before": word_for(chance.before),
        "after": chance.after,
        "word_after": word_for(chance.after),
        "low": chance.low,
        "high": chance.high,
        "trials": chance.trials,
        "met": chance.met,
        "proposed": chance.proposed,
    }
