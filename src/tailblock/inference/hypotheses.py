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
from tailblock.inference.outward import Change

if TYPE_CHECKING:
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


def read_back(
    k: int,
    finding: Finding,
    columns: Columns,
    outcome: Outcome,
    now: FloatArray,
) -> Prediction:
    """Return what each outcome of finding `k` would do.

    Parameters
    ----------
    outcome
        The effects of the finding's columns, in their order.
    now
        The present marginals.
    """
    share = outcome.share
    joint = outcome.present * share
    if columns.by_state:
        chance, both = _from_states(finding, share, joint, now)
    else:
        chance, both = _from_levels(finding, share, joint, now)
    chance = chance.clip(0.0, None)
    said = chance[:, None] > NOISE
    posterior = np.where(said, both / np.where(said, chance[:, None], 1.0), now).clip(0.0, 1.0)
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


def _from_states(
    finding: Finding, share: FloatArray, joint: FloatArray, now: FloatArray
) -> tuple[FloatArray, FloatArray]:
    table = outcome_table(finding, finding.parents).reshape(-1, finding.outcomes)
    states = np.concatenate([[1.0 - share.sum()], share])
    within = np.concatenate([(now - joint.sum(axis=1))[:, None], joint], axis=1)
    return states @ table, (within @ table).T


def _from_levels(
    finding: Finding, share: FloatArray, joint: FloatArray, now: FloatArray
) -> tuple[FloatArray, FloatArray]:
    tops = (finding.low.top + 1, finding.high.top + 1)
    leak = np.outer(finding.low.leak, finding.high.leak)
    total = np.append(share, 1.0).reshape(tops) * leak
    both = np.concatenate([joint, now[:, None]], axis=1).reshape(len(now), *tops) * leak
    total, both = _exactly(total), _exactly(both)
    chance = np.zeros(finding.outcomes)
    within = np.zeros((finding.outcomes, len(now)))
    for a in range(tops[0]):
        for b in range(tops[1]):
            chance[b - a + finding.low.top] += total[a, b]
            within[b - a + finding.low.top] += both[:, a, b]
    return chance, within


def _exactly(at_most: FloatArray) -> FloatArray:
    """Return what is at exactly each pair of levels (last two axes), from what is at most there."""
    by_low = at_most.copy()
    by_low[..., 1:, :] -= at_most[..., :-1, :]
    exact = by_low.copy()
    exact[..., 1:] -= by_low[..., :-1]
    return exact
