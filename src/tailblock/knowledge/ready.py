"""A checklist that can be relied on: found, loaded, and sound.

In: an id and the shelves to look on. Out: the `Checklist`, or an error that names every problem.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tailblock.errors import ProblemsFound
from tailblock.knowledge.kept import Origin, keep, readers, recall

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves


def open_checklist(checklist: str, shelves: Shelves, keep_in: Path | None = None) -> Checklist:
    """Return the checklist of an id, with all that it names in place.

    It knows the place of its head only: whoever needs the place of each entry loads it anew.

    Parameters
    ----------
    keep_in
        A folder where what was read is kept for the next time; None to read it in any case.

    Raises
    ------
    ChecklistNotFound
        There is none of that id.
    ProblemsFound
        It cannot be read, or breaks one of the rules that every use rests on.
    """
    folder = shelves.find(checklist)
    kept = recall(folder, shelves, keep_in) if keep_in else None
    return kept or _read(folder, shelves, keep_in)


def _read(folder: Path, shelves: Shelves, keep_in: Path | None) -> Checklist:
    # Reading takes long to import, too, and mostly it is not needed.
    from tailblock.knowledge.lint import SOUND, lint  # noqa: PLC0415
    from tailblock.knowledge.loader import load  # noqa: PLC0415

    reading = readers()
    loaded = load(folder, shelves)
    if loaded.checklist is None:
        raise ProblemsFound(tuple(p for p in loaded.problems if p.severity == "error"))
    broken = tuple(p for p in lint(loaded.checklist, SOUND) if p.severity == "error")
    if broken:
        raise ProblemsFound(broken)
    bare = replace(loaded.checklist, places=loaded.checklist.places.of_the_head())
    if keep_in:
        keep(bare, Origin(folder, loaded.bases, loaded.digests, reading), keep_in)
    return bare
