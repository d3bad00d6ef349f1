"""Which readings are off normal, and still about the instrument as it is now.

In: the compiled network and its names, what was heard on each visit. Out: `Abnormal`s, in the order
of the visits and of the checklist.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.shows import faults_of, speaking, untouched
from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class Abnormal:
    """A reading off normal: its check, visit and finding, and the faults that it shows.

    Faults that work or time has touched since then are left out: what was read of them is past.
    """

    check: str
    visit: int
    finding: int
    shows: frozenset[str]


def abnormal(
    checklist: Checklist, compiled: Compiled, heard: Sequence[Heard]
) -> tuple[Abnormal, ...]:
    """Return the readings off normal of all visits that show a fault as it is now."""
    return tuple(_abnormal(checklist, compiled, heard))


def _abnormal(
    checklist: Checklist, compiled: Compiled, heard: Sequence[Heard]
) -> Iterator[Abnormal]:
    for visit, check, finding in speaking(compiled, heard):
        levels = levels_of(checklist.checks[check])
        shows = frozenset(
            fault
            for fault in faults_of(checklist, compiled, finding.parents)
            if untouched(compiled, fault, visit)
        )
        if shows and heard[visit].levels[check] != levels.ids[levels.normal]:
            yield Abnormal(check, visit, compiled.index[check, visit], shows)
