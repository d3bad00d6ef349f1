"""`work`, `confirm` and `done`: what was carried out, what was seen, and the end of the job.

In: an inspection file, remedies with their hours, faults that are there or not. Out: the file with
them, and what they moved.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, Date, File, Json, Setups
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.moved import Moved
    from tailblock.cli.session import Session
    from tailblock.inspection.model import ConfirmedFields
    from tailblock.pipeline import Examined

_FAULT = "FAULT[@VISIT]"
Present = Annotated[
    list[str] | None,
    typer.Option(
        metavar=_FAULT,
        help="A fault seen to be there, on the last visit or on one by its number; repeat.",
    ),
]
Absent = Annotated[
    list[str] | None, typer.Option(metavar=_FAULT, help="A fault seen not to be there; repeat.")
]


class HoursForSome(TailblockError):
    """There are hours for some of the remedies, and nothing says for which."""

    def __init__(self, remedies: int, hours: int) -> None:
        self.remedies, self.hours = remedies, hours
        told = f"{hours} figures for {remedies} remedies"
        super().__init__(f"--hours: {told} (give one for each, in the same order, or none)")


class NothingSaid(TailblockError):
    """A command is to confirm nothing."""

    def __init__(self) -> None:
        super().__init__("nothing is confirmed (name a fault: --present FAULT or --absent FAULT)")


def _bench_hours(said: str) -> float:
    """Return a positive number of hours, written with a point or a comma."""
    try:
        hours = float(said.replace(",", "."))
    except ValueError:
        hours = 0.0
    if not 0 < hours < math.inf:
        raise typer.BadParameter(f"'{said}' is no number of hours above 0; write it like 3.5")
    return hours


def work(
    file: File,
    remedy: Annotated[
        list[str],
        typer.Argument(metavar="REMEDY...", help="Ids of remedies done.", show_default=False),
    ],
    *,
    hours: Annotated[
        list[float] | None,
        typer.Option(
            metavar="HOURS",
            parser=_bench_hours,
            help="Bench hours of each remedy, in the same order; repeat.",
        ),
    ] = None,
    stage: Annotated[
        str, typer.Option(help="The kind of the visit that it belongs to; else opened.")
    ] = "",
    date: Date = "",
    by: Annotated[str, typer.Option(help="Who did it.")] = "",
    setup: Setups = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Write work that was carried out, and say what it moved."""
    from tailblock.cli.options import GivenTwice, pairs
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.cli.visits import NewVisit, add_work
    from tailblock.inspection.model import WorkFields

    if hours and len(hours) != len(remedy):
        raise HoursForSome(len(remedy), len(hours))
    twice = next((name for name in remedy if remedy.count(name) > 1), None)
    if twice:
        raise GivenTwice("", twice)
    session = Session.open(file, checklists)
    spent: Sequence[float | None] = hours or [None] * len(remedy)
    fields = [
        WorkFields(remedy=_remedy(name, session), hours=one)
        for name, one in zip(remedy, spent, strict=True)
    ]
    changes = pairs("--setup", setup, "strings=off")
    moved = add_work(session, fields, NewVisit(stage, date, by, changes))
    if as_json:
        print_data(
            {
                "visit": len(session.inspection.visits),
                "work": [{"remedy": one.remedy, "hours": one.hours} for one in fields],
                **_moved_data(moved, session.examined),
            }
        )
        return
    screen = Screen()
    number, visit = len(session.inspection.visits), session.visit
    names = [session.checklist.remedies[one.remedy].name for one in fields]
    for name, one in zip(names, fields, strict=True):
        took = "" if one.hours is None else f", {one.hours:g} h"
        screen.say(f"{name} ({one.remedy}){took}. Saved on visit {number}, {visit.day}.")
    for line in _without_what_it_needs(session):
        screen.say(line)
    _show(session, moved)


def confirm(
    file: File,
    *,
    present: Present = None,
    absent: Absent = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Write faults that were seen to be there, or not to be there."""
    _confirm(file, present, absent, checklists, as_json=as_json, close=False)


def done(
    file: File,
    *,
    present: Present = None,
    absent: Absent = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Close the job with what turned out to be there and what not."""
    _confirm(file, present, absent, checklists, as_json=as_json, close=True)


def _confirm(
    file: File,
    present: Present,
    absent: Absent,
    checklists: Checklists,
    *,
    as_json: bool,
    close: bool,
) -> None:
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.cli.visits import confirm as write

    session = Session.open(file, checklists)
    seen = [
        *(_seen(text, session, there=True) for text in present or ()),
        *(_seen(text, session, there=False) for text in absent or ()),
    ]
    if not (seen or close):
        raise NothingSaid
    moved = write(session, seen, close=close)
    if as_json:
        told = [{"visit": visit + 1, **one.model_dump()} for visit, one in seen]
        print_data({"confirmed": told, "closed": close, **_moved_data(moved, session.examined)})
        return
    screen = Screen()
    for visit, one in seen:
        name = session.checklist.faults[one.fault].name
        stands = "there" if one.present else "not there"
        screen.say(f"{name} ({one.fault}): {stands} on visit {visit + 1}. Saved.")
    _show(session, moved)
    if close:
        screen.say(f"The job is closed with visit {len(session.inspection.visits)}.", "title")


def _remedy(name: str, session: Session) -> str:
    """Return the id of a remedy of this checklist; whether it applies is the file's own matter."""
    from tailblock.knowledge.mending import nearest

    if name not in session.checklist.remedies:
        mend = nearest(name, session.checklist.remedies)
        raise NoSuchRemedy(name, mend or "`tailblock plan` lists those that fit")
    return name


class NoSuchRemedy(TailblockError):
    """A remedy is named that the checklist lacks."""

    def __init__(self, remedy: str, mend: str) -> None:
        self.remedy = remedy
        super().__init__(f"{remedy}: there is no such remedy ({mend})")


def _seen(text: str, session: Session, *, there: bool) -> tuple[int, ConfirmedFields]:
    from tailblock.cli.causes import cause_of
    from tailblock.cli.visits import visit_at
    from tailblock.inspection.model import ConfirmedFields

    fault, at, visit = text.partition("@")
    place = visit_at(visit, session) if at else len(session.inspection.visits) - 1
    cause_of(fault, session.examined)
    return place, ConfirmedFields(fault=fault, present=there)


def _without_what_it_needs(session: Session) -> list[str]:
    """Write which work usually comes first and is not in the file."""
    remedies = session.checklist.remedies
    done = {one.remedy for visit in session.inspection.visits for one in visit.work}
    return [
        f"{remedies[one.remedy].name} usually comes after: {remedies[needed].name} ({needed})."
        for one in session.visit.work
        for needed in remedies[one.remedy].needs.remedies
        if needed not in done
    ]


def _show(session: Session, moved: Moved) -> None:
    from tailblock.cli.output import Screen
    from tailblock.cli.reading import show_moved

    show_moved(Screen(), moved, session.examined)


def _moved_data(moved: Moved, examined: Examined) -> dict[str, object]:
    from tailblock.cli.moved import moved_data

    return moved_data(moved, examined)
