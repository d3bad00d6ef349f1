"""Questions about findings as small changes of the weights, and the answers read back.

In: a `Network`. Out: its `Questions`: for each finding the changes that together tell what each of
its outcomes would do, and the reading of their effects. They depend on nothing but the network, so
they are worked out once and kept as long as it lives. Two exact ways to ask, whichever needs fewer
changes:

- by level: "at most level a on the low side and b on the high side" is a product over the
  parents, and differences of such changes are outcomes;
- by state: the parents are in this state; the outcome's table then weighs the states. Findings on
  the same single node share that one change.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, TypeAlias
from weakref import WeakKeyDictionary

import numpy as np

from tailblock.inference.beliefs import Prediction
from tailblock.inference.factors import outcome_table
from tailblock.inference.regions import Change

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.outward import Outcome
    from tailblock.network.arrays import Finding, FloatArray, IndexArray, Network

# Which node, and what multiplies the weight of its absence and of its presence.
Key: TypeAlias = tuple[tuple[int, float, float], ...]

# Below this chance of an answer, what it would do is rounding noise.
NOISE = 1e-12


@dataclass(frozen=True, slots=True)
class Question:
    """How one finding is asked about.

    `changes`: which of the network's changes, c of them. `adds`: outcomes x (c + 1), what each of
    them adds to each outcome, and in the last column what no change at all does.
    """

    changes: IndexArray
    adds: FloatArray


class Questions:
    """What can be asked of the findings of one network; equal changes are asked once."""

    def __init__(self, network: Network) -> None:
        self._findings = network.findings
        self._number: dict[Key, int] = {}
        self._changes: list[Change] = []
        self._known: dict[int, Question] = {}

    def about(self, k: int) -> Question:
        """Return how to ask about finding `k`."""
        known = self._known.get(k)
        if known is None:
            keys, adds = _asked(self._findings[k])
            numbers = np.array([self._numbered(key) for key in keys], dtype=np.intp)
            known = self._known[k] = Question(numbers, adds)
        return known

    def changes(self, numbers: IndexArray) -> list[Change]:
        """Return the changes behind their numbers."""
        return [self._changes[number] for number in numbers]

    def _numbered(self, key: Key) -> int:
        number = self._number.setdefault(key, len(self._changes))
        if number == len(self._changes):
            self._changes.append(Change({node: (a, p) for node, a, p in key}))
        return number


_KEPT: WeakKeyDictionary[Network, Questions] = WeakKeyDictionary()


def questions_of(network: Network) -> Questions:
    """Return what can be asked of a network."""
    kept = _KEPT.get(network)
    if kept is None:
        kept = _KEPT[network] = Questions(network)
    return kept


@dataclass(frozen=True, slots=True)
class Effects:
    """What changes did, and a last row for no change: the present state of things.

    `numbers`: which changes, ascending. `weight`: their number + 1 shares. `joint`: as many rows x
    nodes, P(node, change).
    """

    numbers: IndexArray
    weight: FloatArray
    joint: FloatArray

    @classmethod
    def of(cls, numbers: IndexArray, outcome: Outcome, now: FloatArray) -> Effects:
        """Put the outcome of all changes and the present marginals side by side."""
        joint = np.empty((len(outcome.share) + 1, len(now)))
        np.multiply(outcome.present.T, outcome.share[:, None], out=joint[:-1])
        joint[-1] = now
        return cls(numbers, np.append(outcome.share, 1.0), joint)


def read_back(
    findings: Sequence[int], asked: Sequence[Question], effects: Effects
) -> tuple[Prediction, ...]:
    """Return what each outcome of each finding would do; those of one shape are read together."""
    alike: dict[tuple[int, ...], list[int]] = defaultdict(list)
    for place, question in enumerate(asked):
        alike[question.adds.shape].append(place)
    found: list[Prediction | None] = [None] * len(findings)
    for (_, columns), places in alike.items():
        rows = np.full((len(places), columns), -1)
        wanted = np.array([asked[place].changes for place in places]).reshape(len(places), -1)
        rows[:, :-1] = effects.numbers.searchsorted(wanted)
        adds = np.array([asked[place].adds for place in places])
        chance = (adds @ effects.weight[rows][..., None])[..., 0].clip(0.0, None)
        said = chance[..., None] > NOISE
        both = adds @ effects.joint[rows]
        posterior = np.divide(both, chance[..., None], out=both, where=said)
        posterior = np.where(said, posterior, effects.joint[-1]).clip(0.0, 1.0)
        chance.flags.writeable = posterior.flags.writeable = False
        for i, place in enumerate(places):
            found[place] = Prediction(findings[place], chance[i], posterior[i])
    return tuple(one for one in found if one is not None)


def _asked(finding: Finding) -> tuple[tuple[Key, ...], FloatArray]:
    """Return the changes of the cheaper way to ask, and what they add to each outcome."""
    parents = finding.parents
    low, high = finding.low, finding.high
    if (1 << len(parents)) - 1 <= (low.top + 1) * (high.top + 1) - 1:
        states = itertools.product((0, 1), repeat=len(parents))
        return tuple(_state_key(parents, s) for s in states if any(s)), _of_states(finding)
    levels = [(a, b) for a in range(low.top + 1) for b in range(high.top + 1)][:-1]
    adds = _of_levels(low.top, high.top) * np.outer(low.leak, high.leak)
    return tuple(_level_key(finding, a, b) for a, b in levels), adds.reshape(len(adds), -1)


def _state_key(parents: tuple[int, ...], state: tuple[int, ...]) -> Key:
    return tuple((p, 1.0 - on, float(on)) for p, on in zip(parents, state, strict=True))


def _level_key(finding: Finding, low: int, high: int) -> Key:
    weight = dict.fromkeys(finding.parents, 1.0)
    for side, level in ((finding.low, low), (finding.high, high)):
        for parent, factor in zip(side.parents, side.cumulative[:, level].tolist(), strict=True):
            weight[parent] *= factor
    return tuple((parent, 1.0, factor) for parent, factor in weight.items() if factor != 1.0)


def _of_states(finding: Finding) -> FloatArray:
    """Return outcomes x (changes + 1): what each change by state adds to each outcome.

    What is in no other state is in that with no parent there.
    """
    table = outcome_table(finding, finding.parents).reshape(-1, finding.outcomes).T
    return np.concatenate([table[:, 1:] - table[:, :1], table[:, :1]], axis=1)


@cache
def _of_levels(low: int, high: int) -> FloatArray:
    """Return outcomes x (low + 1) x (high + 1): what "at most there" adds to each outcome.

    At exactly (a, b) is what is at most there, less what is at most (a - 1, b) or (a, b - 1); what
    is at most (a - 1, b - 1) went twice. At most the highest levels is everything.
    """
    adds = np.zeros((low + high + 1, low + 1, high + 1))
    for a in range(low + 1):
        for b in range(high + 1):
            outcome = adds[b - a + low]
            outcome[a, b] += 1.0
            if a:
                outcome[a - 1, b] -= 1.0
            if b:
                outcome[a, b - 1] -= 1.0
            if a and b:
                outcome[a - 1, b - 1] += 1.0
    adds.flags.writeable = False
    return adds
