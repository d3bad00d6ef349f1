"""Cases to practise on: a hidden instrument, what the player says, and what is to be found.

In: a checklist with a seed, a level and a theme; or an inspection that is closed, because what was
wrong has been seen. Out: `Case`. The same seed makes the same case.

Level 1 is one fault that shows at two places or more. Level 2 is two that share no check. Level 3
is three that hide one another: each is shown by a check that also shows another. What else matters
is not there, unless it can have brought a fault of the case about (at level 1 not even that); small
faults are as the network draws them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.next_check import MATTERS
from tailblock.advice.ranking import weights
from tailblock.errors import TailblockError
from tailblock.inference import ImpossibleEvidence
from tailblock.inspection.interpret import first_setup
from tailblock.knowledge.levels import levels_of
from tailblock.pipeline import examine
from tailblock.practice.case_faults import left_out, looks_at_faults, pick, traits_for
from tailblock.practice.self_consistency import complaint_of, drawn_traits
from tailblock.practice.simulated import as_it_came_in, draw_instruments
from tailblock.practice.themes import of_theme

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping
    from pathlib import Path

    from tailblock.inspection.record import Inspection, Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.practice.case_faults import Level
    from tailblock.practice.simulated import Hidden

_PICKS = 25  # of faults, before it is said that there is no such case
_DRAWS = 8  # of instruments with the faults of a pick
_CLEAR = {1: 2, 2: 1, 3: 1}  # looks at the bench that show each fault


@dataclass(frozen=True, slots=True)
class Case:
    """An instrument to practise on.

    `to_find`: the faults that are to be named. `complaints`: the questions that the player answers
    unasked. `setup`: the state it comes in. `source`: how it came about, `seed 3, level 1` or
    `closed case`.
    """

    checklist: Checklist
    hidden: Hidden
    stage: str
    setup: Setup
    to_find: tuple[str, ...]
    complaints: tuple[str, ...]
    source: str


class NoSuchCase(TailblockError):
    """No instrument of a level and theme came up."""

    def __init__(self, level: int, theme: str) -> None:
        self.level, self.theme = level, theme
        about = f" about {theme}" if theme else ""
        super().__init__(
            f"no case of level {level}{about} came up: too few faults there can be told apart on "
            "a first visit (take another theme, level or seed)"
        )


class NotClosed(TailblockError):
    """Nobody has seen what was wrong, so nothing can be found out by practising."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path}: no fault is confirmed as there (write what was seen with "
            f"`tailblock confirm {path} --present FAULT`)"
        )


def draw_case(checklist: Checklist, seed: int, level: Level = 1, theme: str = "") -> Case:
    """Return a case of a level and theme.

    Parameters
    ----------
    seed
        Not negative.
    theme
        One of `themes.THEMES`; empty for any.

    Raises
    ------
    NoSuchTheme, NotInTheChecklist
        The theme cannot be read.
    NoSuchCase
    """
    stage = next(iter(checklist.stages), "arrival")
    looks = looks_at_faults(checklist, stage)
    themed = [fault for fault in of_theme(checklist, theme) if looks.get(fault)]
    dice = np.random.default_rng(seed)
    source = f"seed {seed}, level {level}{f', {theme}' if theme else ''}"
    for _ in range(_PICKS):
        faults = pick(level, themed, looks, dice)
        wanted = traits_for(checklist, faults)
        draw, *seeds = (int(number) for number in dice.integers(1 << 31, size=_DRAWS + 1))
        if len(faults) < level or wanted is None:
            continue
        traits = drawn_traits(checklist, draw, wanted)
        without = left_out(checklist, faults)
        try:
            for hidden in draw_instruments(checklist, traits, seeds, faults, without):
                voiced = (complaint_of(hidden, fault) for fault in faults)
                complaints = [one for one in voiced if one][:1]
                to_find = _to_find(checklist, hidden, faults)
                alone = level > 1 or len(to_find) == 1
                if complaints and alone and all(_clear(hidden, looks[f], level) for f in faults):
                    setup = first_setup(checklist)
                    told = tuple(complaints)
                    return Case(checklist, hidden, stage, setup, to_find, told, source)
        except ImpossibleEvidence:  # something that is left out would have to be there
            continue
    raise NoSuchCase(level, theme)


def closed_case(checklist: Checklist, inspection: Inspection, seed: int) -> Case:
    """Return the instrument of a closed inspection as it came in, without any name.

    What nobody read on the first visit is drawn given all that was read and confirmed later.

    Raises
    ------
    NotClosed
    SampledOnly, Contradiction
    """
    seen = [one for visit in inspection.visits for one in visit.confirmed if one.present]
    hidden = as_it_came_in(examine(checklist, inspection), seed) if seen else None
    named = dict.fromkeys(one.fault for one in seen if one.fault in checklist.faults)
    there = [fault for fault in named if hidden and fault in hidden.faults]
    if hidden is None or not there:
        raise NotClosed(inspection.path)
    first = inspection.visits[0]
    complaints = [
        reading.check
        for reading in first.readings
        if checklist.checks[reading.check].asked == "player" and not reading.retracted
    ]
    told = tuple(name for name in dict.fromkeys(complaints) if _off_normal(hidden, name))
    return Case(checklist, hidden, first.stage, first.setup, tuple(there), told, "closed case")


def _clear(hidden: Hidden, shows: Mapping[str, Check], level: Level) -> bool:
    return sum(_off_normal(hidden, check) for check in shows) >= _CLEAR[level]


def _off_normal(hidden: Hidden, name: str) -> bool:
    levels = levels_of(hidden.checklist.checks[name])
    return name in hidden.levels and hidden.levels[name] != levels.ids[levels.normal]


def _to_find(checklist: Checklist, hidden: Hidden, faults: Collection[str]) -> tuple[str, ...]:
    """Return the faults of a case, and what else is there and matters."""
    return (*faults, *(id_ for id_ in _weighty(checklist) if id_ in hidden.faults - {*faults}))


def _weighty(checklist: Checklist) -> Iterator[str]:
    weighs = weights(checklist)
    for id_, fault in checklist.faults.items():
        if fault.kind == "condition" and weighs[id_] >= MATTERS:
            yield id_
