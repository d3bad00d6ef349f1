"""`explain`: what depends on an entry of a checklist, and how much its chances matter.

In: the id of an entry, a checklist, its vignettes. Out: text, or JSON in a shape that is a
contract.
"""

from __future__ import annotations

from dataclasses import asdict
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.checklist import ChecklistName, opened
from tailblock.cli.options import Checklists, Json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.knowledge.dependents import Dependent
    from tailblock.knowledge.numbers import Number
    from tailblock.practice.sensitivity import Flip, Moved

_WAY = {-1: "down", 1: "up"}


def explain(
    entry: Annotated[
        str,
        typer.Argument(
            metavar="ENTRY", help="The id of a fault, symptom, check ...", show_default=False
        ),
    ],
    checklist: ChecklistName = "flat-top",
    *,
    vignettes: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            help="The folder of the vignettes; else `vignettes` in the checklist, if it is.",
        ),
    ] = None,
    advice: Annotated[
        bool, typer.Option("--advice", help="Also: where another check would be next (slow).")
    ] = False,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Say what depends on an entry, and how much its chances matter."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.vignettes import vignettes_of
    from tailblock.knowledge.dependents import dependents, kinds_of
    from tailblock.knowledge.numbers import numbers_of
    from tailblock.practice.format import read_vignettes
    from tailblock.practice.sensitivity import sensitivity

    known = opened(checklist, checklists)
    kinds = kinds_of(known, entry)
    naming = {kind: dependents(known, kind, entry) for kind in kinds}
    numbers = [number for kind in kinds for number in numbers_of(known, kind, entry)]
    folder = vignettes or vignettes_of(checklist, checklists)
    cases = read_vignettes(folder, known) if folder and numbers else ()
    moved = sensitivity(known, cases, numbers, with_advice=advice) if cases else ()
    if as_json:
        print_data(
            {
                "entry": entry,
                "checklist": known.id,
                "version": known.version,
                "dependents": [
                    {"as": kind, **asdict(each)} for kind in kinds for each in naming[kind]
                ],
                "numbers": [{"number": each.says, "words": each.words} for each in numbers],
                "vignettes": len(cases),
                "moved": [_data(each) for each in moved],
            }
        )
        return
    screen = Screen()
    for kind in kinds:
        screen.say(f"{entry}: {kind} of {known.id} {known.version}", "title")
        _show_dependents(screen, naming[kind])
    if numbers:
        _show_numbers(screen, numbers, moved, len(cases))


def _show_dependents(screen: Screen, found: Sequence[Dependent]) -> None:
    if not found:
        screen.say("Nothing names it.", indent=2)
    ordered = sorted(found, key=lambda each: [other.how for other in found].index(each.how))
    for how, group in groupby(ordered, key=lambda each: each.how):
        screen.say(f"{how}: {', '.join(each.id for each in group)}", indent=2)


def _show_numbers(
    screen: Screen, numbers: Sequence[Number], moved: Sequence[Moved], cases: int
) -> None:
    """Print each number, and what a word down and a word up would do to the vignettes."""
    screen.say("Its chances", "title")
    if not cases:
        screen.say("No vignettes to try them on (`--vignettes DIR` names a folder).", "quiet")
    for number in numbers:
        screen.say(f"{number.says}: {number.words}", indent=2)
        for each in moved:
            if each.number == number:
                _show_moved(screen, each, cases)


def _show_moved(screen: Screen, moved: Moved, cases: int) -> None:
    from tailblock.report.wording import points

    change = points(abs(moved.most))
    said = [_in("lead", len(moved.leads), cases)]
    if moved.next_checks is not None:
        said.append(_in("next check", len(moved.next_checks), cases))
    if change == points(0.0):
        said.append("no probability moves by a point")
    else:
        sense = "up" if moved.most > 0 else "down"
        said.append(f"most: {moved.fault} {change} {sense} in {moved.vignette}")
    screen.say(f"{_WAY[moved.way]} to {moved.words}: {'; '.join(said)}", indent=4)
    for flip in moved.leads:
        screen.say(f"{flip.vignette}: {_flip(flip)} leads", indent=8)
    for flip in moved.next_checks or ():
        screen.say(f"{flip.vignette}: {_flip(flip)} is next", indent=8)


def _in(what: str, different: int, cases: int) -> str:
    return f"another {what} in {different} of {cases}" if different else f"the same {what} in all"


def _flip(flip: Flip) -> str:
    return f"{flip.before or 'nothing'} -> {flip.after or 'nothing'}"


def _data(moved: Moved) -> dict[str, Any]:
    return {
        "number": moved.number.says,
        "way": _WAY[moved.way],
        "words": moved.words,
        "leads": [asdict(flip) for flip in moved.leads],
        "next": None if moved.next_checks is None else [asdict(flip) for flip in moved.next_checks],
        "most": {"change": moved.most, "fault": moved.fault, "vignette": moved.vignette},
    }
