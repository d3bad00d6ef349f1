"""Questions about findings as small changes of the weights, and the answers read back.

In: a `Finding`. Out: `Columns`, the changes that together tell what each of its outcomes would
do, and the reading of their effects. Two exact ways, whichever needs fewer columns:

- by level: "at most level a on the low side and b on the high side" is a product over the
  parents, and differences of such columns are outcomes;
- by state: the parents are in this state; the outcome's table then weighs the states. Findings on
  the same single node share that one column.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from tailblock.inference.beliefs import Prediction
from tailblock.inference.factors import outcome_table
from tailblock.inference.regions import Change

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.outward import Outcome
    from tailblock.network.arrays import Finding, FloatArray

# Which node, and what multiplies the weight of its absence and of its presence.
Key: TypeAlias = tuple[tuple[int, float, float], ...]

# Below this chance of an answer, what it would do is rounding noise.
NOISE = 1e-12


@dataclass(frozen=True, slots=True)
class Columns:
    """The changes that a finding needs; `key` names each, so that equal ones are asked once."""

    keys: tuple[Key, ...]
    by_state: bool

    def changes(self) -> dict[Key, Change]:
        """Return the change behind each key."""
        return {key: Change({node: (a, p) for node, a, p in key}) for key in self.keys}


def columns_of(finding: Finding) -> Columns:
    """Return the cheaper way to ask about a finding."""
    parents = finding.parents
    levels = [(a, b) for a in range(finding.low.top + 1) for b in range(finding.high.top + 1)][:-1]
    if (1 << len(parents)) - 1 <= len(levels):
        states = itertools.product((0, 1), repeat=len(parents))
        return Columns(
            tuple(_state_key(parents, state) for state in states if any(state)), by_state=True
        )
    return Columns(tuple(_level_key(finding, a, b) for a, b in levels), by_state=False)


@dataclass(frozen=True, slots=True)
class Effects:
    """What columns did, and a last row for no change: the present state of things.

    `weight`: columns + 1 shares. `joint`: (columns + 1) x nodes, P(node, column).
    """

    weight: FloatArray
    joint: FloatArray

    @classmethod
    def of(cls, outcome: Outcome, now: FloatArray) -> Effects:
        """Put the outcome of all columns and the present marginals side by side."""
        joint = np.empty((len(outcome.share) + 1, len(now)))
        np.multiply(outcome.present.T, outcome.share[:, None], out=joint[:-1])
        joint[-1] = now
        return cls(np.append(outcome.share, 1.0), joint)


def read_back(
    k: int, finding: Finding, columns: Columns, at: Sequence[int], effects: Effects
) -> Prediction:
    """Return what each outcome of finding `k` would do.

    Parameters
    ----------
    at
        Where the finding's columns stand among the effects, in their order.
    """
    outcomes = (_of_states if columns.by_state else _of_levels)(finding)
    rows = [*at, -1]
    chance = (outcomes @ effects.weight[rows]).clip(0.0, None)
    said = chance[:, None] > NOISE
    both = outcomes @ effects.joint[rows]
    posterior = np.divide(both, chance[:, None], out=both, where=said)
    posterior = np.where(said, posterior, effects.joint[-1]).clip(0.0, 1.0)
    chance.flags.writeable = posterior.flags.writeable = False
    return Prediction(k, chance, posterior)


def _state_key(parents: tuple[int, ...], state: tuple[int, ...]) -> Key:
    return tuple((p, 1.0 - on, float(on)) for p, on in zip(parents, state, strict=True))


def _level_key(finding: Finding, low: int, high: int) -> Key:
    weight = dict.fromkeys(finding.parents, 1.0)
    for side, level in ((finding.low, low), (finding.high, high)):
        for row, parent in enumerate(side.parents):
            weight[parent] *= float(side.cumulative[row, level])
    return tuple((parent, 1.0, factor) for parent, factor in weight.items() if factor != 1.0)


def _of_states(finding: Finding) -> FloatArray:
    """Return outcomes x (columns + 1): what each column by state adds to each outcome.

    What is in no other state is in that with no parent there.
    """
    table = outcome_table(finding, finding.parents).reshape(-1, finding.outcomes).T
    return np.concatenate([table[:, 1:] - table[:, :1], table[:, :1]], axis=1)


def _of_levels(finding: Finding) -> FloatArray:
    """Return outcomes x (columns + 1): what each column by level adds to each outcome.

    At exactly (a, b) is what is at most there, less what is at most (a - 1, b) or (a, b - 1); what
    is at most (a - 1, b - 1) went twice. At most the highest levels is everything.
    """
    low, high = finding.low, finding.high
    adds = np.zeros((finding.outcomes, low.top + 1, high.top + 1))
    for a in range(low.top + 1):
        for b in range(high.top + 1):
            outcome = adds[b - a + low.top]
            outcome[a, b] += 1.0
            if a:
                outcome[a - 1, b] -= 1.0
            if b:
                outcome[a, b - 1] -= 1.0
            if a and b:
                outcome[a - 1, b - 1] += 1.0
    adds *= np.outer(low.leak, high.leak)
    return adds.reshape(finding.outcomes, -1)
