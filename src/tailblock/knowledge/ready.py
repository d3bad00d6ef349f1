"""A checklist that can be relied on: found, loaded, and sound.

In: an id and the shelves to look on. Out: the `Checklist`, or an error that names every problem.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.errors import ProblemsFound
from tailblock.knowledge.lint import SOUND, lint
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves


def open_checklist(checklist: str, shelves: Shelves) -> Checklist:
    """Return the checklist of an id, with all that it names in place.

    Raises
    ------
    ChecklistNotFound
        There is none of that id.
    ProblemsFound
        It cannot be read, or breaks one of the rules that every use rests on.
    """
    loaded = load(shelves.find(checklist), shelves)
    if loaded.checklist is None:
        raise ProblemsFound(tuple(p for p in loaded.problems if p.severity == "error"))
    broken = tuple(p for p in lint(loaded.checklist, SOUND) if p.severity == "error")
    if broken:
        raise ProblemsFound(broken)
    return loaded.checklist
