"""Writing inspection files so that nothing is ever half written, lost or overwritten unseen.

In: the path of a file and an edit of its text. Out: the file as it then stands on disk, read again.
A write is a temporary file beside the old one, forced to disk and put into its place in one step,
under a lock; on any error the old file is untouched and the temporary one is gone.
"""

from __future__ import annotations

import errno
import os
import stat
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from tailblock.errors import TailblockError
from tailblock.inspection import spell, store
from tailblock.inspection.record import Inspection

if TYPE_CHECKING:
    from tailblock.inspection.model import InspectionFields

LOCK_PATIENCE = 2.0  # seconds; another Tailblock holds the lock for some milliseconds

# The text as it stands on disk and what it means -> the new text.
Edit = Callable[[str, Inspection], str]


class FileLocked(TailblockError):
    """Another program is writing to the file."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path}: another Tailblock is writing to this file; nothing was changed "
            "(close it or try again)"
        )


class FileExists(TailblockError):
    """A new file would have to replace one that is there."""

    def __init__(self, path: Path) -> None:
        self.path = path
        said = (
            "this is a folder (name a file in it)"
            if path.is_dir()
            else "there is a file of that name already (choose another name)"
        )
        super().__init__(f"{path}: {said}")


class CannotWrite(TailblockError):
    """The system refuses to take the file; what was there is untouched."""

    def __init__(self, path: Path, error: OSError) -> None:
        self.path, self.errno = path, error.errno
        said, mend = _SAID.get(error.errno or 0, (error.strerror or str(error), ""))
        mend = f" ({mend})" if mend else ""
        super().__init__(f"{path}: cannot be written: {said}; nothing was changed{mend}")


_ANYBODY_WRITES = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH
_FULL = ("the disk is full", "make room and do it again")
_DENIED = ("it is read-only for you", "allow writing to the file and its folder")
_SAID = {
    errno.ENOSPC: _FULL,
    errno.EDQUOT: _FULL,
    errno.EFBIG: ("it would be larger than the system allows", "raise the limit and do it again"),
    errno.EACCES: _DENIED,
    errno.EPERM: _DENIED,
    errno.EROFS: ("it lies on a read-only disk", "copy it to where you may write"),
    errno.ENOENT: ("there is no such folder", "make the folder first"),
    errno.EISDIR: ("it is a folder", "name a file in it"),
    errno.ENOTDIR: ("there is no such folder", "make the folder first"),
}


def change(
    path: Path,
    find_checklist: store.ChecklistFinder,
    edit: Edit,
    judge: Callable[[Inspection], object] | None = None,
) -> Inspection:
    """Change an inspection file by one edit.

    The file is read inside the lock, so that what another program has written since it was read
    last is kept; the new text must read as an inspection before anything is written.

    Parameters
    ----------
    path
        The file; a link is followed.
    find_checklist
        As for `store.read`.
    edit
        Gets the text and the record as they are on disk and returns the new text.
    judge
        Gets the new record before it is written; what it raises keeps the file as it was.

    Returns
    -------
    Inspection
        The record as it then is on disk.

    Raises
    ------
    NoSuchFile, NotAFile, CannotRead, ProblemsFound
        The file cannot be read, or not any more after the edit.
    FileLocked, CannotWrite
        It cannot be written. In every case it is as it was.
    """
    target = path.resolve()
    store.content_of(target)  # a missing file must not leave a lock behind
    with locked(target):
        content = store.content_of(target)
        before = store.from_bytes(content, path, find_checklist)
        new = edit(content.decode("utf-8"), before).encode("utf-8")
        after = store.from_bytes(new, path, find_checklist)
        if judge is not None:
            judge(after)
        put(target, new)
    return after


def begin(
    path: Path, find_checklist: store.ChecklistFinder, fields: InspectionFields
) -> Inspection:
    """Write a new inspection file; never over one that is there.

    Parameters
    ----------
    path
        The file to make; its folder exists.
    find_checklist
        As for `store.read`.
    fields
        What the file says, with its first visit.

    Raises
    ------
    FileExists, FileLocked, CannotWrite
        Nothing was written.
    ProblemsFound
        The fields do not fit the checklist; nothing was written.
    """
    target = path.resolve()
    content = _first_text(fields).encode("utf-8")
    inspection = store.from_bytes(content, path, find_checklist)
    with locked(target):
        if os.path.lexists(target):
            raise FileExists(path)
        put(target, content)
    return inspection


def _first_text(fields: InspectionFields) -> str:
    """Return a new file: a field a line, a visit an item."""
    data = {"tailblock": store.FORMAT, **spell.plain(fields)}
    visits = data.pop("visits")
    instrument = data.pop("instrument")
    lines = list(spell.block(data))
    if isinstance(instrument, dict):
        lines += ["instrument:", *(f"  {line}" for line in spell.block(instrument))]
    if isinstance(visits, list):
        items = (spell.item(visit) for visit in visits if isinstance(visit, dict))
        lines += ["visits:", *(f"  {line}" for item in items for line in item)]
    return "\n".join(lines) + "\n"


@contextmanager
def locked(target: Path) -> Iterator[None]:
    """Hold the lock that lies hidden beside a file.

    Raises
    ------
    FileLocked, CannotWrite
    """
    if not target.parent.is_dir():  # the lock would make the folder
        raise CannotWrite(target, FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT)))
    lock = FileLock(target.with_name(f".{target.name}.lock"), timeout=LOCK_PATIENCE)
    try:
        lock.acquire()
    except Timeout:
        raise FileLocked(target) from None
    except OSError as error:
        raise CannotWrite(target, error) from error
    try:
        yield
    finally:
        lock.release()


def put(path: Path, content: bytes) -> None:
    """Put content into the place of a file in one step, or leave everything as it was.

    A file that is there keeps its permissions; a link is followed.

    Raises
    ------
    CannotWrite
    """
    target = path.resolve()
    temporary: Path | None = None
    try:
        mode = _mode(target)
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".new", dir=target.parent)
        temporary = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fchmod(file.fileno(), mode)
            os.fsync(file.fileno())
        temporary.replace(target)
    except OSError as error:
        raise CannotWrite(path, error) from error
    finally:
        if temporary is not None:
            temporary.unlink(missing_ok=True)
    _sync_folder(target.parent)


def _mode(target: Path) -> int:
    """Return the permissions of a file that is there, or those that a new one gets.

    A file that is marked read-only is refused, although a new one could take its place.
    """
    if not target.exists():
        return 0o666 & ~_umask()
    mode = stat.S_IMODE(target.stat().st_mode)
    if not mode & _ANYBODY_WRITES or not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return mode


def _sync_folder(folder: Path) -> None:
    """Force the new name to disk; the file is whole by now, so a refusal is no error."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    """Return the mask for new files; the system only tells it by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
