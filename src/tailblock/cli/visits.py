"""What changes an inspection beyond a reading: visits, work, confirmed faults, the end of the job.

In: an open session and what a person says was done or seen. Out: one edit of the file each, whole
or not at all, and what it moved.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.cli.options import day_of, one_of, setup_with
from tailblock.errors import TailblockError
from tailblock.inspection import edit
from tailblock.inspection.model import ConfirmedFields, VisitFields, WorkFields

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tailblock.cli.moved import Moved
    from tailblock.cli.session import Session
    from tailblock.inspection.record import Inspection, Visit

OPENED = "opened"  # the stage in which work is done, unless somebody says otherwise


class BeforeTheLast(TailblockError):
    """A visit is to be dated before the one that it follows."""

    def __init__(self, day: date, last: date, *, given: bool) -> None:
        self.day, self.last = day, last
        which = f"--date: {day}" if given else f"today, {day},"
        mend = f"--date {last} or later"
        super().__init__(f"{which} is before the last visit, of {last} (give {mend})")


class NoSuchVisit(TailblockError):
    """A visit is named by a number that the file does not have."""

    def __init__(self, given: str, visits: int) -> None:
        self.given = given
        there = "there is visit 1" if visits == 1 else f"there are visits 1 to {visits}"
        super().__init__(f"{given}: there is no such visit ({there})")


@dataclass(frozen=True, slots=True)
class NewVisit:
    """What a person says of a visit that begins; what is empty is left to the rules.

    `setup` holds the states that differ from those in which the last visit left the instrument.
    """

    stage: str
    day: str = ""
    by: str = ""
    setup: dict[str, str] | None = None


def begin_visit(session: Session, new: NewVisit) -> None:
    """Begin a visit, unless the last one is of that kind and nothing has been seen on it yet.

    Raises
    ------
    NoSuchName, NoSuchState, NotADay, BeforeTheLast
    """
    fields = _fields(session, new)
    if _is_waiting(session.visit, new):
        return
    session.change(lambda text, now: edit.add_visit(text, str(now.path), fields))


def add_work(session: Session, done: Sequence[WorkFields], new: NewVisit) -> Moved:
    """Write remedies that were carried out, on a new visit if the last one has seen anything.

    Raises
    ------
    NoSuchName, NoSuchState, NotADay, BeforeTheLast
        Of the visit.
    ProblemsFound
        Of the remedies, each at the place where it would stand.
    """
    goes_on = not _has_seen(session.visit) and not (new.stage or new.day)
    if not goes_on:
        new = NewVisit(new.stage or OPENED, new.day, new.by, new.setup)
        goes_on = _is_waiting(session.visit, new)
    fields = None if goes_on else _fields(session, new)

    def with_work(text: str, now: Inspection) -> str:
        visits = len(now.visits)
        if fields is not None:
            text = edit.add_visit(text, str(now.path), fields)
            visits += 1
        for one in done:
            text = edit.add_work(text, str(now.path), visits - 1, one)
        return text

    return session.change(with_work)


def confirm(session: Session, seen: Sequence[tuple[int, ConfirmedFields]], *, close: bool) -> Moved:
    """Write faults seen to be there or not, each on its visit (from 0), and close the job.

    Raises
    ------
    VisitClosed
    ProblemsFound
        Of the faults, each at the place where it would stand.
    Contradiction
        They cannot be true together with what was read and confirmed before.
    """
    if close:
        session.require_open()

    def with_confirmed(text: str, now: Inspection) -> str:
        for visit, fields in seen:
            text = edit.add_confirmed(text, str(now.path), visit, fields)
        return edit.close(text, str(now.path), len(now.visits) - 1) if close else text

    return session.change(with_confirmed)


def visit_at(given: str, session: Session) -> int:
    """Return the index of a visit from its number as people count.

    Raises
    ------
    NoSuchVisit
    """
    visits = len(session.inspection.visits)
    if not (given.isdecimal() and 1 <= int(given) <= visits):
        raise NoSuchVisit(given, visits)
    return int(given) - 1


def _fields(session: Session, new: NewVisit) -> VisitFields:
    one_of("--stage", new.stage, session.checklist.stages)
    changes = new.setup or {}
    setup_with(session.visit.present_setup, changes, session.checklist)
    day, last = day_of(new.day), session.visit.day
    if day < last:
        raise BeforeTheLast(day, last, given=bool(new.day))
    return VisitFields(stage=new.stage, date=day, by=new.by or None, setup=changes)


def _is_waiting(visit: Visit, new: NewVisit) -> bool:
    """Return whether the last visit is the one that is to begin."""
    same = visit.stage == new.stage and (not new.day or day_of(new.day) == visit.day)
    return same and not _has_seen(visit) and not new.setup and new.by in {"", visit.by}


def _has_seen(visit: Visit) -> bool:
    return bool(visit.readings or visit.confirmed or visit.closed)
