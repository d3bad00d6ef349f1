"""Checklists that were read before, kept ready so that a command starts at once.

In: a folder of YAML files, and a folder to keep results in. Out: the `Checklist` that reading it
again would give, or nothing. What is kept counts only while nothing differs: the bytes of every
file of the checklist and of those that it extends, where those are found, the modules that read
them, and what was kept itself. In every other case, and on every error, it is as if nothing had
been kept.
"""

from __future__ import annotations

import copyreg
import hashlib
import io
import os
import pickle
import stat
import sys
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import pydantic

from tailblock.knowledge.files import digests_of
from tailblock.knowledge.library import ChecklistNotFound

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves

_SEAL = hashlib.sha256().digest_size
_PACKAGE = Path(__file__).parents[1]
# What decides what becomes of the files: their reading, and the rules of a sound checklist.
_READERS = (_PACKAGE / "knowledge", _PACKAGE / "measures")


@dataclass(frozen=True, slots=True)
class Origin:
    """What a checklist was read from: folders, the bytes of all files, and by which modules."""

    folder: Path
    bases: tuple[tuple[str, Path], ...]  # each checklist that it extends in turn: id and folder
    digests: Mapping[str, bytes]  # path -> sha256
    readers: tuple[str, ...]

    def stands(self, shelves: Shelves) -> bool:
        """Return whether reading again would read just the same.

        Raises
        ------
        OSError
            A file cannot be read.
        """
        above = self.folder
        for base, folder in self.bases:
            try:
                if shelves.find(base, above.resolve().parent) != folder:
                    return False
            except ChecklistNotFound:
                return False
            above = folder
        if self.readers != readers():
            return False
        now: dict[str, bytes] = {}
        for folder in (self.folder, *(folder for _, folder in self.bases)):
            now |= digests_of(folder)
        return now == self.digests


def recall(folder: Path, shelves: Shelves, keep_in: Path) -> Checklist | None:
    """Return the checklist that was kept for a folder, if it still stands."""
    try:
        with _place(folder, keep_in).open("rb") as file:
            if not only_ours(os.fstat(file.fileno())):
                return None
            kept = file.read()
        if hashlib.sha256(kept[_SEAL:]).digest() != kept[:_SEAL]:
            return None
        stream = io.BytesIO(kept)
        stream.seek(_SEAL)
        origin: Origin = pickle.load(stream)  # noqa: S301 (this user wrote it, and it is whole)
        if origin.folder != folder or not origin.stands(shelves):
            return None
        checklist: Checklist = pickle.load(stream)  # noqa: S301
    except Exception:  # noqa: BLE001 (whatever ails it: what cannot be used was not kept)
        return None
    return checklist


def keep(checklist: Checklist, origin: Origin, keep_in: Path) -> None:
    """Keep a checklist, if the system lets us."""
    stream = io.BytesIO()
    for value in (origin, checklist):
        _pickler(stream).dump(value)
    content = stream.getvalue()
    with suppress(OSError):
        keep_in.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=keep_in)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(content).digest() + content)
            Path(name).replace(_place(origin.folder, keep_in))
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise


def readers() -> tuple[str, ...]:
    """Return what reads a checklist: versions, and name, size and time of each module."""
    found = []
    for root in _READERS:
        for folder, _, files in os.walk(root):
            for name in files:
                if name.endswith(".py"):
                    status = Path(folder, name).stat()
                    found.append(f"{folder}/{name} {status.st_size} {status.st_mtime_ns}")
    return (sys.version, pydantic.VERSION, *sorted(found))


def _place(folder: Path, keep_in: Path) -> Path:
    name = os.fsencode(folder.resolve())
    return keep_in / f"{hashlib.sha256(name).hexdigest()[:32]}.checklist"


def only_ours(status: os.stat_result) -> bool:
    """Return whether nobody else can have written this, since what is unpickled is run."""
    if not hasattr(os, "getuid"):  # Windows, where a profile's folder is its owner's
        return True
    return status.st_uid == os.getuid() and not status.st_mode & (stat.S_IWGRP | stat.S_IWOTH)


def _pickler(stream: io.BytesIO) -> pickle.Pickler:
    pickler = pickle.Pickler(stream, protocol=pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = copyreg.dispatch_table.copy()
    pickler.dispatch_table[MappingProxyType] = lambda view: (_view, (dict(view),))
    return pickler


def _view(items: dict[str, Any]) -> MappingProxyType[str, Any]:
    return MappingProxyType(items)
