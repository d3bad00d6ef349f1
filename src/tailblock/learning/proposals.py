"""Which chances of a checklist the cases speak of, and which of them they would change.

In: cases, their checklist, the index of its chances. Out: `Chance`s: each with what is written,
what was learned, how many trials stand behind it, and whether a change is proposed.

A change is proposed only where there are enough trials and what is written lies outside the
interval. Of a hundred chances that are right, a few lie outside by chance alone.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge.numbers import when_said
from tailblock.learning.fit import learn
from tailblock.network.written import value_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition, Fault, Symptom
    from tailblock.learning.cases import Case, Index
    from tailblock.network.written import Written

LEAST_TRIALS = 30.0  # worth of trials seen in full, below which nothing is proposed


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance with enough trials behind it.

    `says`: what it is a chance of. `before`: as written. `after`: as learned, to two digits. `low`
    to `high`: the interval. `met`: how often it was put to the test, as expected; `trials`: how
    many trials seen in full would tell as much. `proposed`: whether a change is.
    """

    written: Written
    says: str
    before: float
    after: float
    low: float
    high: float
    met: float
    trials: float
    proposed: bool


def chances_of(cases: Sequence[Case], checklist: Checklist, index: Index) -> tuple[Chance, ...]:
    """Return the chances with enough trials, those first that a change is proposed for.

    Parameters
    ----------
    cases
        All of this checklist; the probability of each is above 0.
    index
        That of the cases.
    """
    before = np.array([value_of(written, checklist) for written in index])
    rivals: dict[str, list[int]] = defaultdict(list)
    for written, place in index.items():
        rivals[written.entry].append(place)
    learned = learn(cases, before, [np.array(places) for places in rivals.values()])
    found = []
    for written, place in index.items():
        if learned.trials[place] < LEAST_TRIALS:
            continue
        low, high = learned.interval(place)
        was, after = float(before[place]), float(f"{learned.chance[place]:.2g}")
        found.append(
            Chance(
                written,
                says(written, checklist),
                was,
                after,
                low,
                high,
                float(learned.met[place]),
                float(learned.trials[place]),
                not low <= was <= high and 0.0 < after < 1.0,
            )
        )
    return tuple(sorted(found, key=lambda chance: (not chance.proposed, -chance.trials)))


def says(written: Written, checklist: Checklist) -> str:
    """Return in words what a written chance is a chance of."""
    node = checklist.fault_or_symptom(written.entry)
    if written.cause is None:
        return f"{node.id} alone{when_said(condition_of(node, written.rules) or {})}"
    cause = node.caused_by[written.cause]
    return f"{cause.fault} brings about {node.id}{when_said(cause.when)}"


def condition_of(node: Fault | Symptom, rules: Sequence[int]) -> Condition | None:
    """Return the condition that all of some `alone_when` hold; None if they never do together."""
    both: dict[str, tuple[str, ...]] = {}
    for place in rules:
        for trait, values in node.alone_when[place].when.items():
            both[trait] = tuple(v for v in values if v in both.get(trait, values))
            if not both[trait]:
                return None
    return both
