"""Which faults a case has by its level, and what else its instrument must be and must not have.

In: a checklist, a level, the faults of a theme. Out: faults, the traits that they all need, and the
faults that are left out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from tailblock.advice.next_check import MATTERS
from tailblock.advice.ranking import weights
from tailblock.knowledge.coverage import needs_work, through
from tailblock.practice.themes import behind

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    import numpy as np

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Condition

Level = Literal[1, 2, 3]
LEVELS: tuple[Level, ...] = (1, 2, 3)


def looks_at_faults(checklist: Checklist, stage: str) -> Mapping[str, Mapping[str, Check]]:
    """Return for each fault the looks at the bench that show it on a visit without repair work."""
    return {
        fault: {
            id_: check
            for id_, check in shows.items()
            if check.asked == "bench"
            and check.derived is None
            and (not check.stages or stage in check.stages)
            and not needs_work(checklist, check)
        }
        for fault, shows in through(checklist).items()
    }


def pick(
    level: Level,
    themed: Collection[str],
    looks: Mapping[str, Mapping[str, Check]],
    dice: np.random.Generator,
) -> tuple[str, ...]:
    """Return faults of a level, the first of the theme; fewer if there are not so many."""
    if not themed:
        return ()
    chosen = [_one_of(themed, dice)]
    while len(chosen) < level:
        read = {check for fault in chosen for check in looks[fault]}
        apart = level == 2
        fitting = [
            fault
            for fault, shows in looks.items()
            if shows and fault not in chosen and read.isdisjoint(shows) == apart
        ]
        fitting = [fault for fault in fitting if fault in set(themed)] or fitting
        if not fitting:
            break
        chosen.append(_one_of(fitting, dice))
    return tuple(chosen)


def _one_of(names: Iterable[str], dice: np.random.Generator) -> str:
    listed = tuple(names)
    return listed[int(dice.integers(len(listed)))]


def traits_for(checklist: Checklist, faults: Iterable[str]) -> Condition | None:
    """Return the traits that all of some faults need, None if no instrument has them all."""
    wanted: dict[str, tuple[str, ...]] = {}
    for fault in faults:
        for trait, values in checklist.faults[fault].applies_when.items():
            both = tuple(value for value in wanted.get(trait, values) if value in values)
            if not any(_known(checklist, trait, value) for value in both):
                return None
            wanted[trait] = both
    return wanted


def _known(checklist: Checklist, trait: str, value: str) -> bool:
    shares = checklist.traits[trait].shares
    return shares.get(value, 0.0) > 0.0 if shares else value != "unknown"


def left_out(checklist: Checklist, faults: Collection[str]) -> tuple[str, ...]:
    """Return the other faults that matter and cannot have brought these about."""
    causes = {cause for fault in faults for cause in behind(checklist, fault)}
    weighs = weights(checklist)
    return tuple(
        id_
        for id_, fault in checklist.faults.items()
        if fault.kind == "condition"
        and weighs[id_] >= MATTERS
        and id_ not in causes
        and id_ not in faults
    )
