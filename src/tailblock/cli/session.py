"""An inspection file on the bench: read, examined, changed, examined again.

In: the path of a file and where checklists are looked for. Out: what the stages below make of it.
Every change is on disk before the next line is printed. What only a change needs is loaded for it:
a person waits for each answer of `next`.
"""

from __future__ import annotations

import os
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.api import InspectionFile
from tailblock.cli.moved import Moved, compare, in_force
from tailblock.cli.options import finder, shelves
from tailblock.errors import TailblockError
from tailblock.inspection.record import in_setup
from tailblock.pipeline import Examined, examine, open_inspection

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import datetime

    from tailblock.advice import HeldBack
    from tailblock.inspection.record import Answer, Inspection, Photo, Setup, Visit
    from tailblock.inspection.write import Edit
    from tailblock.knowledge.entries import Check


class NoSuchPhoto(TailblockError):
    """A photograph is named that is not there."""

    def __init__(self, path: str) -> None:
        self.path = path
        said = (
            "this is a folder (name one photograph in it)"
            if Path(path).is_dir()
            else "there is no such photograph (take it first, then name it)"
        )
        super().__init__(f"{path}: {said}")


class Session:
    """One inspection file and its checklist; `told` is a setup that no reading holds yet."""

    def __init__(self, file: InspectionFile) -> None:
        self._file = file
        self.checklist = file.checklist
        self._told: Setup | None = None

    @classmethod
    def open(cls, file: Path, checklists: Path | None) -> Session:
        """Read a file; see `pipeline.open_inspection` for what can be wrong with it."""
        find = finder(shelves(checklists, file))
        return cls(InspectionFile(find, *open_inspection(file, find)))

    @property
    def path(self) -> Path:
        """Return the path of the file."""
        return self._file.path

    @property
    def inspection(self) -> Inspection:
        """Return the record as it is on disk."""
        return self._file.inspection

    @property
    def visit(self) -> Visit:
        """Return the last visit."""
        return self._file.visit

    @property
    def present(self) -> Setup:
        """Return the setup it is in: as told last, or as the last reading has it."""
        return self._told or self.visit.present_setup

    @cached_property
    def examined(self) -> Examined:
        """Return what the readings say."""
        return examine(self.checklist, _in_setup(self.inspection, self._told))

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
        return self._file.understood(check, value, setup)

    def record(
        self,
        check: str,
        value: str,
        setup: Setup,
        *,
        note: str = "",
        photos: Sequence[str | Photo] = (),
        at: datetime | None = None,
    ) -> Moved:
        """Write a reading, taken now unless said otherwise, and return what it moved."""
        return self._moved(
            lambda: self._file.add_reading(
                check, value, setup=setup, note=note, photos=photos, at=at
            )
        )

    def add_photo(self, photo: Photo, check: str) -> None:
        """Write down a photograph; see `InspectionFile.add_photo`."""
        self._file.add_photo(photo, check)

    def take_back(self, check: str) -> Moved:
        """Take out the last reading of a check on the last visit."""
        return self._moved(lambda: self._file.take_back(check))

    def accept(self, fault: str, by: str, why: str) -> Moved:
        """Write down that a person goes on against what a fault holds back."""
        return self._moved(lambda: self._file.accept(fault, by=by, why=why))

    def require_open(self) -> None:
        """Refuse to add to a job that is closed; see `InspectionFile.require_open`."""
        self._file.require_open()

    def change(self, edit_text: Edit) -> Moved:
        """Write an edit that the engine can still make sense of, and return what it moved."""
        return self._moved(lambda: self._file.change(edit_text))

    def _moved(self, change: Callable[[], None]) -> Moved:
        before = self.examined
        change()
        self._told = None
        self.__dict__["examined"] = self._file.examined  # worked out before it was written
        return compare(before, self.examined)

    def photo(self, given: str) -> str:
        """Return the path of a photograph as the file holds it: seen from its own folder.

        Raises
        ------
        NoSuchPhoto
        UnfitPhoto
            There is such a file, and it is no picture that a report can show.
        """
        from tailblock.inspection.photos import read_picture

        folder = self.path.absolute().parent
        for place in (Path(given).absolute(), folder / given):
            if place.is_file():
                read_picture(place)
                return Path(os.path.relpath(place, folder)).as_posix()
        raise NoSuchPhoto(given)


def _in_setup(inspection: Inspection, told: Setup | None) -> Inspection:
    """Return the record as if the setup that was told stood in it."""
    if told is None:
        return inspection
    *before, last = inspection.visits
    return replace(inspection, visits=(*before, in_setup(last, told)))
