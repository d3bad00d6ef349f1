"""Reading an inspection file.

In: the path of a file and a way to find a checklist by its id. Out: an `Inspection`; or one error
that says what is wrong with the file, or all problems in it together. Nothing is written here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tailblock.errors import Problem, ProblemsFound, TailblockError
from tailblock.inspection.interpret import interpret
from tailblock.inspection.model import InspectionFields
from tailblock.knowledge.checklist import Checklist
from tailblock.knowledge.mending import problems_of
from tailblock.knowledge.yamlmarks import LARGEST, read_marked

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.yamlmarks import Data, Marked

FORMAT = "1"  # the only version of the format so far

ChecklistFinder = Callable[[str], Checklist]


class NoSuchFile(TailblockError):
    """There is no file at the path."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: there is no such file (`tailblock begin {path}` makes one)")


class NotThere(TailblockError):
    """A file is named that is not there."""

    def __init__(self, path: Path) -> None:
        self.path = path
        said = (
            "this is a folder (name the file in it)"
            if path.is_dir()
            else "there is no such file (look at its name and folder)"
        )
        super().__init__(f"{path}: {said}")


class NotAFile(TailblockError):
    """The path leads to a folder or a device."""

    def __init__(self, path: Path) -> None:
        self.path = path
        what = "a folder" if path.is_dir() else "not a plain file"
        super().__init__(f"{path}: this is {what}; name the inspection file itself")


class CannotRead(TailblockError):
    """The system refuses to hand out the file."""

    def __init__(self, path: Path, why: str) -> None:
        self.path, self.why = path, why
        super().__init__(f"{path}: cannot be read: {why}")


def read(path: Path, find_checklist: ChecklistFinder) -> Inspection:
    """Read an inspection file.

    Parameters
    ----------
    path
        The file.
    find_checklist
        Checklist id -> checklist; raises a `TailblockError` if there is none.

    Raises
    ------
    NoSuchFile, NotAFile, CannotRead
        The file cannot be had at all.
    ProblemsFound
        Every problem in the file, by place.
    """
    return from_bytes(content_of(path), path, find_checklist)


def content_of(path: Path) -> bytes:
    """Return the bytes of a file, no more of them than tell that it is too large.

    Raises
    ------
    NoSuchFile, NotAFile, CannotRead
    """
    return _bytes_of(path, LARGEST + 1)


def read_whole(path: Path) -> bytes:
    """Return all bytes of a file that is no inspection.

    Raises
    ------
    NotThere, CannotRead
    """
    if not path.is_file():
        raise NotThere(path)
    return _bytes_of(path, -1)


def _bytes_of(path: Path, most: int) -> bytes:
    try:
        if not path.is_file():
            raise NotAFile(path) if path.exists() else NoSuchFile(path)
        with path.open("rb") as file:
            return file.read(most)
    except OSError as error:
        raise CannotRead(path, error.strerror or str(error)) from error


def from_bytes(content: bytes, path: Path, find_checklist: ChecklistFinder) -> Inspection:
    """Give the bytes of a file their meaning; `path` is its name in messages.

    Raises
    ------
    ProblemsFound
    """
    marked = _marked(content, str(path))
    fields = _fields(marked)
    checklist = _checklist(fields.checklist, marked, find_checklist)
    digest = hashlib.sha256(content).hexdigest()
    inspection, problems = interpret(fields, checklist, marked, path, digest)
    if problems:
        raise ProblemsFound(problems)
    return inspection


def _marked(content: bytes, file: str) -> Marked:
    """Return the plain data with their places, of this version of the format."""
    marked, problems = read_marked(content, file)
    if marked is None:
        raise ProblemsFound(problems)
    if not isinstance(marked.data, dict):
        what = "the file is empty" if marked.data is None else "this is no inspection"
        mend = "`tailblock begin` writes one that begins with `tailblock: 1`"
        raise ProblemsFound((Problem(file, 1, 1, "", "not-an-inspection", what, mend),))
    require_version(marked, marked.data)
    return marked


def require_version(marked: Marked, data: Mapping[str, Data]) -> None:
    """Refuse a file of another version before its fields are judged by the rules of this one."""
    version = data.get("tailblock")
    if version == FORMAT:
        return
    place = marked.root.below(("tailblock",)).place
    mend = f"begin the file with `tailblock: {FORMAT}`"
    if version is None:
        rule, message = "version-missing", "the file does not say which version of the format it is"
    elif isinstance(version, str) and version.isdecimal() and int(version) > int(FORMAT):
        rule, message = "newer-version", f"the file was written by a newer version ({version})"
        mend = f"this Tailblock reads version {FORMAT}: install the newer one"
    else:
        rule, message = "version", f"{version!r} is no version of the format"
    raise ProblemsFound((Problem(*place, "", rule, message, mend),))


def _checklist(name: str, marked: Marked, find_checklist: ChecklistFinder) -> Checklist:
    """Return the checklist that the file names; its own problems are not the inspection's."""
    try:
        return find_checklist(name)
    except ProblemsFound:
        raise
    except TailblockError as error:
        place = marked.root.below(("checklist",)).place
        problem = Problem(*place, "", "unknown-checklist", str(error))
        raise ProblemsFound((problem,)) from error


def _fields(marked: Marked) -> InspectionFields:
    """Return the fields of the file, or all that is wrong with their form."""
    try:
        return InspectionFields.model_validate(_without_empty(marked.data))
    except ValidationError as error:
        problems = problems_of(error, InspectionFields, marked.root, "")
        raise ProblemsFound(tuple(sorted(problems))) from None


def _without_empty(data: Data) -> Data:
    """Leave out fields that are named and have no value: they say nothing."""
    if isinstance(data, dict):
        return {name: _without_empty(value) for name, value in data.items() if value is not None}
    if isinstance(data, list):
        return [_without_empty(value) for value in data]
    return data
