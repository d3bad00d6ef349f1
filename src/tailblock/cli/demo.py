"""`demo`: a shipped inspection played through, reading by reading, up to its report.

In: the name of a demo inspection. Out: the talk of it on the screen, the file and its report in a
folder of their own. Nothing is asked, and nothing is fetched.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session
    from tailblock.inspection.model import InspectionFields, VisitFields
    from tailblock.inspection.record import Inspection, Reading, Visit

TOP = 3  # causes shown after each reading
SHOWN_FIRST = "hot-car"  # the one that the README plays


class NoSuchDemo(TailblockError):
    """No inspection of that name is shipped."""

    def __init__(self, name: str, known: Sequence[str]) -> None:
        self.name, self.known = name, tuple(known)
        there = f"there is {', '.join(known)}" if known else "none are installed"
        super().__init__(f"there is no demo inspection {name!r} ({there})")


def demo(
    inspection: Annotated[
        str, typer.Option(metavar="NAME", help="Which of the shipped inspections; else hot-car.")
    ] = "",
    into: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Where file and report go; else a new folder."),
    ] = None,
) -> None:
    """Play a shipped inspection through and write its report."""
    from tailblock.api import InspectionFile
    from tailblock.cli.options import finder
    from tailblock.cli.output import Screen
    from tailblock.cli.report import write_report
    from tailblock.cli.session import Session
    from tailblock.inspection import store, write
    from tailblock.knowledge.library import Shelves

    source = _chosen(inspection)
    find = finder(Shelves(beside=source.parent))  # the same wherever it is played
    model = store.read(source, find)
    folder = into or Path(tempfile.mkdtemp(prefix="tailblock-demo-"))
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / source.name
    begun = write.begin(file, find, _arrival_without_readings(model))
    screen = Screen()
    session = Session(InspectionFile(find, find(model.checklist), begun))
    screen.say(f"{model.job}: {model.instrument.description}", "title")
    for place, visit in enumerate(model.visits):
        if place:
            _begin(screen, session, visit)
        for number, reading in enumerate(visit.readings, start=1):
            _play(screen, session, number, reading)
        _confirm(screen, session, visit)
    report = file.with_name(f"{file.stem}.report.html")
    write_report(session.examined, {"bench": report})
    screen.say()
    screen.say(f"The inspection: {file}")
    screen.say(f"The report:     {report}", "title")


def shipped_inspections() -> tuple[Path, ...]:
    """Return the shipped inspections: in the wheel, or in the checkout it was built from."""
    package = Path(__file__).parents[1]
    for root in (package / "shipped" / "demo_inspections", package.parents[1] / "demo_inspections"):
        if root.is_dir():
            return tuple(sorted(root.glob("*.yaml")))
    return ()


def _chosen(name: str) -> Path:
    known = {path.stem: path for path in shipped_inspections()}
    if name and name in known:
        return known[name]
    if name or not known:
        raise NoSuchDemo(name, tuple(known))
    return known.get(SHOWN_FIRST, next(iter(known.values())))


def _arrival_without_readings(model: Inspection) -> InspectionFields:
    """Return the file as it was before the first reading."""
    from tailblock.inspection.model import (
        InspectionFields,
        InstrumentFields,
        PlayerFields,
    )

    scale = model.instrument.scale_length
    return InspectionFields(
        job=model.job,
        checklist=model.checklist,
        instrument=InstrumentFields(
            description=model.instrument.description,
            traits=dict(model.instrument.traits),
            scale_length=None if scale is None else f"{scale:g} mm",
            frets_clear=model.instrument.frets_clear,
            note=model.instrument.note or None,
        ),
        player=PlayerFields(name=model.player.name or None, contact=model.player.contact or None),
        visits=(_without_readings(model.visits[0]),),
    )


def _without_readings(visit: Visit) -> VisitFields:
    """Return a visit as it was before its first reading, its work done."""
    from tailblock.inspection.model import ClimateFields, VisitFields, WorkFields

    return VisitFields(
        stage=visit.stage,
        date=visit.day,
        by=visit.by or None,
        climate=ClimateFields(**visit.climate),
        setup=dict(visit.setup),
        note=visit.note or None,
        work=tuple(WorkFields(remedy=one.remedy, hours=one.hours) for one in visit.work),
    )


def _begin(screen: Screen, session: Session, visit: Visit) -> None:
    """Begin a later visit, and tell what its work has moved."""
    from tailblock.cli.reading import show_moved
    from tailblock.inspection import edit

    fields = _without_readings(visit)
    moved = session.change(lambda text, now: edit.add_visit(text, str(now.path), fields))
    stage = session.checklist.stages[visit.stage]
    number = len(session.inspection.visits)
    screen.say()
    screen.say(f"Visit {number}, {stage.name or stage.id}, {visit.day}.", "title")
    for work in visit.work:
        screen.say(f"Done since then: {session.checklist.remedies[work.remedy].name}.")
    show_moved(screen, moved, session.examined)


def _confirm(screen: Screen, session: Session, visit: Visit) -> None:
    """Write what was seen with one's own eyes on a visit, and tell what it moved."""
    from tailblock.cli.reading import show_moved
    from tailblock.cli.visits import confirm
    from tailblock.inspection.model import ConfirmedFields

    last = len(session.inspection.visits) - 1
    for one in visit.confirmed:
        fields = ConfirmedFields(fault=one.fault, present=one.present)
        moved = confirm(session, [(last, fields)], close=False)
        name = session.checklist.faults[one.fault].name
        screen.say()
        screen.say(f"Seen: {name}, {'there' if one.present else 'not there'}.", "title")
        show_moved(screen, moved, session.examined)


def _play(screen: Screen, session: Session, number: int, reading: Reading) -> None:
    """Record a reading and tell what became of it."""
    from tailblock.advice.ranking import LEAST_LEAD
    from tailblock.cli.phrases import answer_text, check_text
    from tailblock.cli.reading import show_moved
    from tailblock.report.wording import percent

    before = session.present
    moved = session.record(
        reading.check,
        reading.written,
        reading.setup,
        note=reading.note,
        photos=reading.photos,
        at=reading.at,
    )
    check = session.checklist.checks[reading.check]
    screen.say()
    if reading.setup != before:
        changed = [
            f"{name} {state}" for name, state in reading.setup.items() if before[name] != state
        ]
        screen.say(f"Now {', '.join(changed)}.")
    said = answer_text(check, reading.written, reading.answer)
    screen.say(f"{number}. {check.title}: {said}", "title")
    show_moved(screen, moved, session.examined)
    leading = sorted(session.examined.causes, key=lambda cause: -cause.lead)[:TOP]
    named = [f"{c.name} {percent(c.probability)}" for c in leading if c.lead >= LEAST_LEAD]
    screen.say(f"Leading: {'; '.join(named)}." if named else "Nothing leads yet.")
    advice = session.examined.advice
    if advice.enough or not advice.advice:
        screen.say("Next: enough, nothing more is worth its minutes.")
    else:
        screen.say(f"Next: {check_text(advice.advice[0].check, session.checklist)}.")
