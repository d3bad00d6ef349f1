"""An inspection file on the bench: read, examined, changed, examined again.

In: the path of a file and where checklists are looked for. Out: what the stages below make of it.
Every change is on disk before the next line is printed. What only a change needs is loaded for it:
a person waits for each answer of `next`.
"""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.cli.moved import Moved, compare, in_force
from tailblock.cli.options import finder, shelves
from tailblock.errors import TailblockError
from tailblock.inspection.answers import find_check, require_setup, understand
from tailblock.inspection.model import AcceptedFields, ReadingFields
from tailblock.inspection.record import Reading
from tailblock.pipeline import Examined, examine, open_inspection

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tailblock.advice import HeldBack
    from tailblock.inspection.record import Answer, Inspection, Setup, Visit
    from tailblock.inspection.store import ChecklistFinder
    from tailblock.inspection.write import Edit
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check


class NoSuchPhoto(TailblockError):
    """A photograph is named that is not there."""

    def __init__(self, path: str) -> None:
        self.path = path
        super().__init__(f"{path}: there is no such photograph (take it first, then name it)")


class NothingToTakeBack(TailblockError):
    """The reading that is to be taken back is gone from the file."""

    def __init__(self, path: Path, check: str) -> None:
        self.path, self.check = path, check
        super().__init__(
            f"{path}: {check} has no reading on the last visit that could be taken back"
        )


class VisitClosed(TailblockError):
    """Something is to be added to a job that is closed."""

    def __init__(self, path: Path, visit: int, day: date) -> None:
        self.path, self.visit = path, visit
        super().__init__(
            f"{path}: visit {visit} of {day} closed the job "
            f"(`tailblock walk {path} --stage follow-up` begins the next visit)"
        )


class Session:
    """One inspection file and its checklist; `told` is a setup that no reading holds yet."""

    def __init__(self, find: ChecklistFinder, checklist: Checklist, inspection: Inspection) -> None:
        self._find = find
        self.checklist = checklist
        self._inspection = inspection
        self._told: Setup | None = None

    @classmethod
    def open(cls, file: Path, checklists: Path | None) -> Session:
        """Read a file; see `pipeline.open_inspection` for what can be wrong with it."""
        find = finder(shelves(checklists, file))
        return cls(find, *open_inspection(file, find))

    @property
    def path(self) -> Path:
        """Return the path of the file."""
        return self._inspection.path

    @property
    def inspection(self) -> Inspection:
        """Return the record as it is on disk."""
        return self._inspection

    @property
    def visit(self) -> Visit:
        """Return the last visit."""
        return self._inspection.visits[-1]

    @property
    def present(self) -> Setup:
        """Return the setup it is in: as told last, or as the last reading has it."""
        return self._told or self.visit.present_setup

    @cached_property
    def examined(self) -> Examined:
        """Return what the readings say."""
        return examine(self.checklist, _in_setup(self._inspection, self._told))

    @property
    def held_back(self) -> tuple[HeldBack, ...]:
        """Return the moves that are held back and that nobody has accepted."""
        return in_force(self.examined)

    def tell(self, setup: Setup) -> None:
        """Take the setup that a person has told; the next reading writes it down."""
        self._told = setup
        self.__dict__.pop("examined", None)

    def understood(self, check: str, value: str, setup: Setup) -> tuple[Check, Answer]:
        """Return a check and what an answer to it means.

        Raises
        ------
        AnswerError
            The answer cannot stand.
        """
        entry = find_check(check, self.checklist, self._inspection.instrument.traits)
        require_setup(entry, setup)
        return entry, understand(entry, value)

    def record(
        self,
        check: str,
        value: str,
        setup: Setup,
        *,
        note: str = "",
        photos: Sequence[str] = (),
        at: datetime | None = None,
    ) -> Moved:
        """Write a reading, taken now unless said otherwise, and return what it moved."""
        from tailblock.inspection import edit

        self.require_open()
        before = self.visit.present_setup
        fields = ReadingFields(
            check=check,
            value=value,
            setup={name: state for name, state in setup.items() if before[name] != state},
            note=note or None,
            photos=tuple(photos),
            at=at or _now(),
        )
        return self.change(
            lambda text, now: edit.add_reading(text, str(now.path), len(now.visits) - 1, fields)
        )

    def take_back(self, check: str) -> Moved:
        """Take out the last reading of a check on the last visit."""
        from tailblock.inspection import edit

        self.require_open()

        def without(text: str, now: Inspection) -> str:
            visit = len(now.visits) - 1
            standing = [
                index
                for index, reading in enumerate(now.visits[visit].readings)
                if reading.check == check and not reading.retracted
            ]
            if not standing:
                raise NothingToTakeBack(now.path, check)
            return edit.retract(text, str(now.path), visit, standing[-1])

        return self.change(without)

    def accept(self, fault: str, by: str, why: str) -> Moved:
        """Write down that a person goes on against what a fault holds back."""
        from tailblock.inspection import edit

        self.require_open()
        fields = AcceptedFields(fault=fault, by=by, why=why, at=_now())
        return self.change(
            lambda text, now: edit.add_accepted(text, str(now.path), len(now.visits) - 1, fields)
        )

    def require_open(self) -> None:
        """Refuse to add to a job that is closed.

        Raises
        ------
        VisitClosed
        """
        if self.visit.closed:
            raise VisitClosed(self.path, len(self._inspection.visits), self.visit.day)

    def change(self, edit_text: Edit) -> Moved:
        """Write an edit that the engine can still make sense of, and return what it moved."""
        from tailblock.inspection import write

        before = self.examined
        after: list[Examined] = []
        self._inspection = write.change(
            self.path,
            self._find,
            edit_text,
            lambda record: after.append(examine(self.checklist, record)),
        )
        self._told = None
        self.__dict__["examined"] = after[-1]  # worked out before it was written
        return compare(before, self.examined)

    def photo(self, given: str) -> str:
        """Return the path of a photograph as the file holds it: seen from its own folder.

        Raises
        ------
        NoSuchPhoto
        """
        folder = self.path.absolute().parent
        for place in (Path(given).absolute(), folder / given):
            if place.is_file():
                return Path(os.path.relpath(place, folder)).as_posix()
        raise NoSuchPhoto(given)


def _now() -> datetime:
    """Return the moment by the shop's clock, to the minute: the file is for people there."""
    return datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005


def _in_setup(inspection: Inspection, told: Setup | None) -> Inspection:
    """Return the record as if the setup that was told stood in it.

    Behind the readings a setup can only stand in a reading: one that is taken back is no evidence.
    """
    if told is None:
        return inspection
    *before, last = inspection.visits
    if last.readings:
        newest = last.readings[-1]
        mark = replace(newest, setup=told, retracted=True, note="", photos=())
        readings: tuple[Reading, ...] = (*last.readings, mark)
        return replace(inspection, visits=(*before, replace(last, readings=readings)))
    return replace(inspection, visits=(*before, replace(last, setup=told)))
