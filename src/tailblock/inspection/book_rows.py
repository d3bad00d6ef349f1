"""The tables of the case book's index, and one inspection as rows of them.

In: an inspection with its checklist, or what is wrong with the file. Out: rows in a database.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.inspection.follow_ups import follow_ups

if TYPE_CHECKING:
    import sqlite3
    from collections.abc import Iterator, Sequence

    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Remedy

SCHEMA = 2  # of the tables; an index of another one is made anew
NAMES = ("meta", "files", "traits", "faults", "due")
TABLES = (
    *(f"DROP TABLE IF EXISTS {name}" for name in NAMES),
    "CREATE TABLE meta (key TEXT, stamps BLOB)",
    """CREATE TABLE files (
        file INTEGER PRIMARY KEY, path TEXT UNIQUE, size INTEGER, changed INTEGER, digest TEXT,
        error TEXT, job TEXT, instrument TEXT, checklist TEXT, stage TEXT, day TEXT, visits INTEGER,
        next_due TEXT, closed INTEGER
    )""",
    "CREATE TABLE traits (file INTEGER, trait TEXT, value TEXT)",
    "CREATE TABLE faults (file INTEGER, fault TEXT, how TEXT)",
    "CREATE TABLE due (file INTEGER, due TEXT, check_id TEXT, title TEXT, remedy TEXT)",
    "CREATE INDEX trait_value ON traits (trait, value, file)",
    "CREATE INDEX fault_file ON faults (fault, file)",
    "CREATE INDEX traits_file ON traits (file)",
    "CREATE INDEX faults_file ON faults (file)",
    "CREATE INDEX due_file ON due (file)",
)
DELETE = tuple(f"DELETE FROM {name} WHERE file = ?" for name in NAMES[1:])  # noqa: S608


def write(
    cursor: sqlite3.Cursor,
    path: str,
    stamp: tuple[int, int],
    digest: str,
    read: tuple[Inspection, Checklist] | str,
) -> None:
    """Write the rows of a file: of an inspection, or of what is wrong with it."""
    head: list[object] = [path, *stamp, digest]
    if isinstance(read, str):
        _insert(cursor, "files", [[None, *head, read, "", "", "", "", "", 0, None, 0]])
        return
    inspection, checklist = read
    last = inspection.visits[-1]
    of = inspection.job, inspection.instrument.description, inspection.checklist
    seen = last.stage, last.day.isoformat(), len(inspection.visits)
    again = [one for one in follow_ups(checklist, inspection.visits) if not one.seen]
    next_due = again[0].due.isoformat() if again else None
    _insert(cursor, "files", [[None, *head, "", *of, *seen, next_due, last.closed]])
    (file,) = cursor.execute("SELECT last_insert_rowid()").fetchone()
    traits = inspection.instrument.traits.items()
    _insert(cursor, "traits", [[file, trait, value] for trait, value in traits])
    faults = dict.fromkeys(_faults(inspection, checklist))
    _insert(cursor, "faults", [[file, fault, how] for fault, how in faults])
    due = [
        [file, one.due.isoformat(), one.check, checklist.checks[one.check].title, one.remedy]
        for one in again
    ]
    _insert(cursor, "due", due)


def _insert(cursor: sqlite3.Cursor, table: str, rows: Sequence[Sequence[object]]) -> None:
    if rows:
        marks = ", ".join("?" * len(rows[0]))
        cursor.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)  # noqa: S608


def _faults(inspection: Inspection, checklist: Checklist) -> Iterator[tuple[str, str]]:
    """Yield what was confirmed to be there, accepted by a person, or dealt with by work."""
    for visit in inspection.visits:
        yield from ((seen.fault, "confirmed") for seen in visit.confirmed if seen.present)
        yield from ((entry.fault, "accepted") for entry in visit.accepted)
        for work in visit.work:
            yield from ((fault, "worked") for fault in _served(checklist.remedies[work.remedy]))


def _served(remedy: Remedy) -> tuple[str, ...]:
    """Return what a remedy cures best: not all that it may ease besides."""
    best = max(fix.how_well for fix in remedy.fixes)
    return tuple(fix.fault for fix in remedy.fixes if fix.how_well == best)
