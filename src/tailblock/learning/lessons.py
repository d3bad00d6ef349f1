"""What a shop's inspections teach, checklist by checklist.

In: inspections with their checklists. Out: `Lesson`s, and what could not be used.

A case counts if at least one fault of it was confirmed, as there or as absent. All its readings
count with it: what was not confirmed is as probable as they make it, and no fault is taken to be
absent because nobody wrote it down.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np

from tailblock.errors import TailblockError
from tailblock.learning.cases import Case, Index
from tailblock.learning.proposals import LEAST_TRIALS, chances_of
from tailblock.network.written import value_of
from tailblock.pipeline import Contradiction, understood

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist
    from tailblock.learning.proposals import Chance


@dataclass(frozen=True, slots=True)
class Lesson:
    """What the cases of one checklist say; no chances where there are too few cases for any."""

    checklist: Checklist
    cases: int
    chances: tuple[Chance, ...]


@dataclass(slots=True)
class _Pupil:
    """The cases of one checklist so far."""

    checklist: Checklist
    index: Index = field(default_factory=Index)
    cases: list[Case] = field(default_factory=list)

    def take(self, inspection: Inspection) -> None:
        compiled, _, evidence = understood(self.checklist, inspection)
        case = Case(compiled, self.checklist, inspection.instrument.traits, evidence, self.index)
        written = np.array([value_of(one, self.checklist) for one in self.index])
        if not isfinite(case.told(written).log_evidence):
            raise Contradiction(inspection.path, ("readings and confirmations",))
        self.cases.append(case)


def lessons(
    inspections: Iterable[tuple[Checklist, Inspection]],
) -> tuple[tuple[Lesson, ...], tuple[tuple[Path, TailblockError], ...]]:
    """Return what each checklist could learn, and the inspections that cannot be used, with why."""
    pupils: dict[str, _Pupil] = {}
    left_out = []
    for checklist, inspection in inspections:
        if not any(visit.confirmed for visit in inspection.visits):
            continue
        pupil = pupils.setdefault(checklist.id, _Pupil(checklist))
        try:
            pupil.take(inspection)
        except TailblockError as error:
            left_out.append((inspection.path, error))
    found = tuple(
        Lesson(
            pupil.checklist,
            len(pupil.cases),
            chances_of(pupil.cases, pupil.checklist, pupil.index)
            if len(pupil.cases) >= LEAST_TRIALS
            else (),
        )
        for pupil in pupils.values()
    )
    return found, tuple(left_out)
