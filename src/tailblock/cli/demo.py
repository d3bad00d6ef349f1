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
    from tailblock.inspection.model import InspectionFields
    from tailblock.inspection.record import Inspection, Reading

TOP = 3  # causes shown after each reading


class NoSuchDemo(TailblockError):
    """No inspection of that name is shipped."""

    def __init__(self, name: str, known: Sequence[str]) -> None:
        self.name, self.known = name, tuple(known)
        there = f"there is {', '.join(known)}" if known else "none are installed"
        super().__init__(f"there is no demo inspection {name!r} ({there})")


def demo(
    inspection: Annotated[
        str, typer.Option(metavar="NAME", help="Which of the shipped inspections; else the first.")
    ] = "",
    into: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Where file and report go; else a new folder."),
    ] = None,
) -> None:
    """Play a shipped inspection through and write its report."""
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
    session = Session(find, find(model.checklist), begun)
    screen.say(f"{model.job}: {model.instrument.description}", "title")
    for number, reading in enumerate(model.visits[0].readings, start=1):
        _play(screen, session, number, reading)
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
    return next(iter(known.values()))


def _arrival_without_readings(model: Inspection) -> InspectionFields:
    """Return the file as it was before the first reading."""
    from tailblock.inspection.model import (
        ClimateFields,
        InspectionFields,
        InstrumentFields,
        PlayerFields,
        VisitFields,
    )

    first = model.visits[0]
    scale = model.instrument.scale_length
    return InspectionFields(
        job=model.job,
        checklist=model.checklist,
        instrument=InstrumentFields(
            description=model.instrument.description,
            traits=dict(model.instrument.traits),
            scale_length=None if scale is None else f"{scale:g} mm",
            note=model.instrument.note or None,
        ),
        player=PlayerFields(name=model.player.name or None, contact=model.player.contact or None),
        visits=(
            VisitFields(
                stage=first.stage,
                date=first.day,
                by=first.by or None,
                climate=ClimateFields(**first.climate),
                setup=dict(first.setup),
                note=first.note or None,
            ),
        ),
    )


def _play(screen: Screen, session: Session, number: int, reading: Reading) -> None:
    """Record a reading and tell what became of it."""
    from tailblock.advice.verdict import LEAST_LEAD
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
