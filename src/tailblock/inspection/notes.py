"""Collecting what is wrong with a file, each thing at its place.

In: paths of fields (`("visits", 0, "stage")`) and what is wrong there. Out: `Problem`s.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.errors import Problem
from tailblock.knowledge.mending import nearest
from tailblock.measures.units import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Collection

    from tailblock.knowledge.yamlmarks import Marked, Place

Steps = tuple[str | int, ...]


class Notes:
    """The problems of one file."""

    def __init__(self, marked: Marked) -> None:
        self.marked = marked
        self.problems: list[Problem] = []

    def problem(self, steps: Steps, rule: str, message: str, mend: str = "") -> None:
        """Note a problem at the field that a path leads to, or at the nearest one above it."""
        entry = self.entry(steps)
        self.problems.append(Problem(*self.place(steps), entry, rule, message, mend))

    def entry(self, steps: Steps) -> str:
        """Name the visit that a path leads through."""
        return f"visit {int(steps[1]) + 1}" if steps[0] == "visits" and len(steps) > 1 else ""

    def place(self, steps: Steps) -> Place:
        """Return where a field stands."""
        return self.marked.root.below(steps).place

    def known(self, steps: Steps, what: str, name: str, names: Collection[str]) -> bool:
        """Say whether an id exists; if not, note the problem with the nearest ones."""
        if name in names:
            return True
        message = f"there is no {what} {name!r} in this checklist"
        self.problem(steps, f"unknown-{what}", message, nearest(name, names))
        return False

    def quantity(
        self, steps: Steps, written: str | None, dimension: str, unit: str | None
    ) -> float | None:
        """Return a quantity in its base unit; None if there is none, or a problem was noted."""
        if written is None:
            return None
        try:
            return parse(written, dimension, unit).quantity.value
        except UnitError as error:
            self.problem(steps, "unit", str(error))
            return None
