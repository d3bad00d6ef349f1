"""The case book: all inspections of a folder, found by what is written in them.

In: a folder, a way to find checklists, where to keep an index. Out: `Case`s. The files stay the
truth: the index is an SQLite database in the user's cache that holds nothing else than what they
say, and is made anew whenever it is missing, unreadable or of another version. Files are known by
their digests: one that was only moved or touched is not read again. Nothing about the player is
kept in it.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from stat import S_ISDIR
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection import store
from tailblock.inspection.book_rows import DELETE, NAMES, SCHEMA, TABLES, write

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
    from datetime import date

    from tailblock.inspection.record import Inspection
    from tailblock.inspection.store import ChecklistFinder
    from tailblock.knowledge.checklist import Checklist

_PATIENCE = 30.0  # seconds that another process may take to bring the index up to date
_NOT_INSPECTIONS = frozenset({"shop.yaml"})
_HEAD = "checklist.yaml"  # a folder with this is a checklist

_EACH = 500  # follow-ups are fetched for so many files at once
_SELECT = """
    SELECT file, path, error, job, instrument, checklist, stage, day, visits FROM files WHERE {}
    ORDER BY error != '', CASE WHEN next_due < ? THEN next_due ELSE '9999' END, day DESC, path
    LIMIT ?
"""
_Stamp = tuple[int, int]  # size and time of the last change [ns]
_New = tuple[str, _Stamp]


@dataclass(frozen=True, slots=True)
class Due:
    """A check that work asked to do again by a day (ISO 8601), and that was not done since."""

    due: str
    check: str
    title: str
    remedy: str
    overdue: bool


@dataclass(frozen=True, slots=True)
class Case:
    """An inspection as the book has it; if it cannot be read, only `path` and `error` say anything.

    `stage` and `day` (ISO 8601) are those of the last of its `visits`.
    """

    path: str  # seen from the folder of the book
    error: str
    job: str
    instrument: str
    checklist: str
    stage: str
    day: str
    visits: int
    due: tuple[Due, ...]

    @property
    def overdue(self) -> bool:
        """Return whether something should have been looked at again by now."""
        return any(one.overdue for one in self.due)


@dataclass(frozen=True, slots=True)
class Found:
    """The first cases of those that were found, and how many there are in all.

    `overdue` and `broken` count among all of them.
    """

    cases: tuple[Case, ...]
    total: int
    overdue: int
    broken: int


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for: all of it must hold; what is empty asks for nothing.

    `fault`: confirmed, accepted by a person, or dealt with by work, on any visit. `state`: a stage
    (of the last visit), `closed` for a job that is done, `overdue`, or `broken` for what cannot be
    read. `since`: the last visit was
    on that day or later.
    """

    traits: Mapping[str, str]
    fault: str = ""
    state: str = ""
    since: date | None = None


class Book:
    """The index of one folder, brought up to date when it is opened.

    Raises
    ------
    OSError
        The folder cannot be read.
    """

    def __init__(
        self,
        folder: Path,
        find_checklist: ChecklistFinder,
        keep_in: Path,
        *,
        key: str = "",
        over: Callable[[Collection[_New]], Iterable[_New]] = iter,
    ) -> None:
        """Bring the index up to date.

        Parameters
        ----------
        keep_in
            The folder of the index; without leave to write there it is made anew each time.
        key
            Of all else than the files that decides what is read from them: the index is made anew
            if it differs.
        over
            Goes through what is new; a terminal shows by it how far it has come.
        """
        self.folder = folder
        self._find = find_checklist
        self._over = over
        self._key = f"{SCHEMA} {key}"
        name = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:32]
        with suppress(OSError):
            keep_in.mkdir(mode=0o700, parents=True, exist_ok=True)
        self._base = self._opened(keep_in / f"{name}.book")

    def close(self) -> None:
        """Let go of the index."""
        self._base.close()

    def search(self, wanted: Wanted, today: date, most: int | None = None) -> Found:
        """Return the cases, what is overdue first, then the last ones seen, broken ones last.

        Parameters
        ----------
        most
            So many of them at most; all if left out.
        """
        where, values = ["1"], list[object]()
        for trait, value in wanted.traits.items():
            where.append("file IN (SELECT file FROM traits WHERE trait = ? AND value = ?)")
            values += [trait, value]
        if wanted.fault:
            where.append("file IN (SELECT file FROM faults WHERE fault = ?)")
            values.append(wanted.fault)
        if wanted.state == "overdue":
            where.append("next_due < ?")
            values.append(today.isoformat())
        elif wanted.state == "closed":
            where.append("closed")
        elif wanted.state == "broken":
            where.append("error != ''")
        elif wanted.state:
            where.append("stage = ?")
            values.append(wanted.state)
        if wanted.since is not None:
            where.append("day >= ?")
            values.append(wanted.since.isoformat())
        conditions = " AND ".join(where)
        limits = [today.isoformat(), -1 if most is None else most]
        rows = self._base.execute(_SELECT.format(conditions), [*values, *limits]).fetchall()
        due = self._due(today, [row[0] for row in rows])
        cases = tuple(
            Case(path, error, job, instrument, checklist, stage, day, visits, due.get(file, ()))
            for file, path, error, job, instrument, checklist, stage, day, visits in rows
        )
        totals = (
            "SELECT count(*), coalesce(sum(next_due < ?), 0), coalesce(sum(error != ''), 0) "  # noqa: S608  (the clauses are those above)
            f"FROM files WHERE {conditions}"
        )
        return Found(cases, *self._base.execute(totals, [today.isoformat(), *values]).fetchone())

    def known(self, what: str) -> tuple[str, ...]:
        """Return the names in the book of `trait` or `stage`, in their order."""
        table = {"trait": "traits", "stage": "files"}[what]
        rows = self._base.execute(f"SELECT DISTINCT {what} FROM {table} ORDER BY 1")  # noqa: S608
        return tuple(name for (name,) in rows if name)

    def _due(self, today: date, files: Sequence[int]) -> dict[int, tuple[Due, ...]]:
        """Return what is to be looked at again, for each file that has something."""
        day = today.isoformat()
        found: dict[int, tuple[Due, ...]] = {}
        for start in range(0, len(files), _EACH):
            some = files[start : start + _EACH]
            for file, due, check, title, remedy in self._base.execute(
                "SELECT file, due, check_id, title, remedy FROM due "  # noqa: S608  (marks alone)
                f"WHERE file IN ({', '.join('?' * len(some))}) ORDER BY due",
                some,
            ):
                found[file] = (*found.get(file, ()), Due(due, check, title, remedy, due < day))
        return found

    def _opened(self, path: Path) -> sqlite3.Connection:
        """Return the index, brought up to date: a spoilt one is made anew, at worst in memory."""
        for place in (path, path, ":memory:"):
            try:
                base = sqlite3.connect(place, timeout=_PATIENCE, isolation_level=None)
            except sqlite3.Error:
                continue
            try:
                self._update(base)
            except sqlite3.DatabaseError:
                base.close()
                with suppress(OSError):
                    path.unlink()
                continue
            return base
        raise NoIndex(self.folder)

    def _update(self, base: sqlite3.Connection) -> None:
        with closing(base.cursor()) as cursor:
            cursor.execute("BEGIN IMMEDIATE")
            try:
                self._read_changes(cursor)
            except BaseException:
                if base.in_transaction:
                    cursor.execute("ROLLBACK")
                raise
            cursor.execute("COMMIT")

    def _read_changes(self, cursor: sqlite3.Cursor) -> None:
        """Read what is new, and forget what is gone."""
        (version,) = cursor.execute("PRAGMA user_version").fetchone()
        if version != SCHEMA or self._other_key(cursor):
            for statement in TABLES:
                cursor.execute(statement)
            cursor.execute("INSERT INTO meta VALUES (?, NULL)", [self._key])
            cursor.execute(f"PRAGMA user_version = {SCHEMA}")
        for table in NAMES:  # an error if one is missing
            cursor.execute(f"SELECT 1 FROM {table} LIMIT 1")  # noqa: S608
        found = list(files_of(self.folder))
        # one value to compare, as mostly nothing has changed: a folder then lists in the same order
        lines = (f"{path} {size} {changed}" for path, (size, changed) in found)
        stamps = os.fsencode("\n".join(lines))
        if cursor.execute("SELECT stamps FROM meta").fetchone() == (stamps,):
            return
        now = dict(found)
        known = {
            path: (file, (size, changed), digest)
            for file, path, size, changed, digest in cursor.execute(
                "SELECT file, path, size, changed, digest FROM files"
            )
        }
        gone = {path: row for path, row in known.items() if path not in now}
        moved = {digest: path for path, (_, _, digest) in gone.items() if digest}
        new_or_changed = [
            (path, stamp)
            for path, stamp in now.items()
            if path not in known or known[path][1] != stamp
        ]
        for path, stamp in self._over(new_or_changed):
            file, _, digest = known.get(path, (None, None, ""))
            content, error = self._content(path)
            new = "" if error else hashlib.sha256(content).hexdigest()
            if file is None and new in moved:
                file, _, digest = gone.pop(moved.pop(new))
            if new and new == digest:
                place = "UPDATE files SET path = ?, size = ?, changed = ? WHERE file = ?"
                cursor.execute(place, [path, *stamp, file])
                continue
            if file is not None:
                _forget(cursor, [file])
            write(cursor, path, stamp, new, error or self._inspection(content, path))
        _forget(cursor, [file for file, _, _ in gone.values()])
        cursor.execute("UPDATE meta SET stamps = ?", [stamps])

    def _other_key(self, cursor: sqlite3.Cursor) -> bool:
        return [self._key] != [key for (key,) in cursor.execute("SELECT key FROM meta")]

    def _content(self, path: str) -> tuple[bytes, str]:
        try:
            return store.content_of(self.folder / path), ""
        except TailblockError as error:
            return b"", str(error)

    def _inspection(self, content: bytes, path: str) -> tuple[Inspection, Checklist] | str:
        """Return what a file says with its checklist, or the first thing that is wrong with it."""
        try:
            inspection = store.from_bytes(content, Path(path), self._find)
            return inspection, self._find(inspection.checklist)
        except TailblockError as error:
            return str(error).splitlines()[0]


class NoIndex(TailblockError):
    """Not even in memory can an index be made."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        super().__init__(f"{folder}: no index of it can be made (is there memory left?)")


def files_of(folder: Path) -> Iterator[tuple[str, _Stamp]]:
    """Yield the files that may be inspections, seen from the folder, with size and last change."""
    waiting = [(os.fspath(folder), "")]
    while waiting:
        place, before = waiting.pop()
        with os.scandir(place) as entries:
            here = [entry for entry in entries if not entry.name.startswith(".")]
        if any(entry.name == _HEAD for entry in here):
            continue
        for entry in here:
            name = entry.name
            if name.endswith((".yaml", ".yml")):
                try:
                    status = entry.stat()
                except OSError:  # gone since, or a link to nowhere
                    continue
                if not S_ISDIR(status.st_mode):
                    if name not in _NOT_INSPECTIONS:
                        yield before + name, (status.st_size, status.st_mtime_ns)
                    continue
            if entry.is_dir(follow_symlinks=False):
                waiting.append((entry.path, f"{before}{name}/"))


def _forget(cursor: sqlite3.Cursor, files: Sequence[int]) -> None:
    for statement in DELETE:
        cursor.executemany(statement, [[file] for file in files])
