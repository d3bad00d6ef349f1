"""Network and evidence -> factors over binary variables, small enough to multiply.

In: a `Network` and `Evidence`. Out: a `Problem`: unary weights and non-negative factors, whose
product summed over everything is the probability of the evidence. Findings never become
variables:

- an answer "at most level l" of a one-sided finding is a product over its parents, so it only
  multiplies weights (the insight behind Quickscore, D. Heckerman, UAI 1989);
- an answer "exactly level l" is such a product times a noisy-OR that is seen to be on;
- any other likelihood is a table over its parents.

Noisy-ORs are divorced (see `divorcing`), so that no table grows with the number of causes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.divorcing import Factor, NoisyOr, divorce_all

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.network.arrays import Evidence, Finding, FloatArray, Network, Number, Side

# A table over so few parents is smaller than the gates that would replace it.
DENSE_PARENTS = 3

# The owner of what was seen with one's own eyes, which no finding is.
SEEN = -1


@dataclass(frozen=True, slots=True)
class Weights:
    """Rank-one evidence of one finding: `factor` multiplies the weights of `nodes` being there."""

    owner: int
    nodes: tuple[int, ...]
    factor: FloatArray
    scale: Number  # the leak's share, which multiplies the whole


@dataclass(frozen=True, slots=True)
class FactorGraph:
    """All factors and weights; variables 0..n-1 are the nodes, the rest auxiliary gates."""

    variables: int
    factors: tuple[Factor, ...]
    weights: tuple[Weights, ...]


def outcome_table(finding: Finding, parents: Sequence[int]) -> FloatArray:
    """Return P(outcome | states of `parents`), shape (2, ..., 2, outcomes), one axis a parent.

    Every parent of the finding must be among `parents`. Noisy-MAX on each side, the outcome being
    the high level less the low one.
    """
    axis = len(parents)
    if finding.low.top == 0:
        return _level_table(finding.high, parents)
    low = np.moveaxis(_level_table(finding.low, parents), axis, 0)
    if finding.high.top == 0:
        return np.moveaxis(low[::-1], 0, axis)
    high = np.moveaxis(_level_table(finding.high, parents), axis, 0)
    table = np.zeros((finding.outcomes, *low.shape[1:]))
    for a in range(finding.low.top + 1):
        for b in range(finding.high.top + 1):
            table[b - a + finding.low.top] += low[a] * high[b]
    return np.moveaxis(table, 0, axis)


def scaled(evidence: Evidence) -> Evidence:
    """Return the same evidence with the largest entry of every likelihood 1 (or all of them 0)."""
    return replace(evidence, soft={k: _to_one(row) for k, row in evidence.soft.items()})


def _to_one(likelihood: tuple[float, ...]) -> tuple[float, ...]:
    peak = max(likelihood)
    return likelihood if peak in (0.0, 1.0) else tuple(value / peak for value in likelihood)


def at_most(k: int, finding: Finding, likelihood: FloatArray) -> Weights | None:
    """Return the evidence of finding `k` as weights if it says "at most this level", else None.

    The largest entry of `likelihood` is 1, one entry an outcome.
    """
    if finding.low.top and finding.high.top:
        return None
    side, by_level = _one_side(finding, likelihood)
    level = int(np.flatnonzero(by_level)[-1])
    return _at_most(k, side, level) if by_level[: level + 1].min() == 1.0 else None


def build(network: Network, evidence: Evidence) -> FactorGraph:
    """Return the factors of the network with its evidence, which is `scaled`, entered."""
    draft = _Draft()
    for k, likelihood in evidence.soft.items():
        draft.enter(k, network.findings[k], np.asarray(likelihood))
    for node, present in evidence.hard.items():
        told = np.zeros((2, *network.batch))
        told[int(present)] = 1.0
        draft.factors.append(Factor((node,), told, owner=SEEN))
    factors, variables = draft.factors, len(network)
    scopes = [factor.scope for factor in factors]
    for _, pieces in divorce_all(network, draft.gates, scopes):
        factors.extend(pieces.factors)
        variables += pieces.between
    return FactorGraph(variables, tuple(factors), tuple(draft.weights))


@dataclass(frozen=True, slots=True)
class _Draft:
    """What a factor graph is put together from."""

    gates: list[NoisyOr] = field(default_factory=list)
    factors: list[Factor] = field(default_factory=list)
    weights: list[Weights] = field(default_factory=list)

    def enter(self, k: int, finding: Finding, likelihood: FloatArray) -> None:
        """Enter the likelihood of finding `k` (largest entry 1) in the cheapest exact form."""
        parents = finding.parents
        plain = at_most(k, finding, likelihood)
        if plain is not None:
            self.weights.append(plain)
            return
        if finding.low.top == 0 or finding.high.top == 0:
            side, by_level = _one_side(finding, likelihood)
            level = int(np.flatnonzero(by_level)[-1])
            if np.count_nonzero(by_level) == 1 and len(parents) > DENSE_PARENTS:
                self.weights.append(_at_most(k, side, level))
                milder = side.cumulative[:, level - 1] / side.cumulative[:, level]
                leak = 1.0 - side.leak[level - 1] / side.leak[level]
                strengths = tuple(1.0 - milder)
                self.gates.append(NoisyOr(None, leak, side.parents, strengths, owner=k))
                return
        table = np.moveaxis(outcome_table(finding, parents), len(parents), -1) @ likelihood
        self.factors.append(Factor(parents, table, owner=k))


def _level_table(side: Side, parents: Sequence[int]) -> FloatArray:
    """Return P(level of this side | states of `parents`), level on the axis behind theirs."""
    cumulative = np.empty((1 << len(parents), *side.leak.shape))
    cumulative[...] = side.leak
    for row, node in enumerate(side.parents):
        halves = cumulative.reshape(1 << parents.index(node), 2, -1, *side.leak.shape)
        halves[:, 1] *= side.cumulative[row]
    cumulative[:, 1:] -= cumulative[:, :-1].copy()
    return cumulative.reshape(*[2] * len(parents), *side.leak.shape)


def _one_side(finding: Finding, likelihood: FloatArray) -> tuple[Side, FloatArray]:
    """Return the side that a one-sided finding has, and its likelihood from the mildest level."""
    if finding.low.top == 0:
        return finding.high, likelihood
    return finding.low, likelihood[::-1]


def _at_most(k: int, side: Side, level: int) -> Weights:
    return Weights(k, side.parents, side.cumulative[:, level].copy(), side.leak[level])
