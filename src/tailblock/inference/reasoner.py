"""The questions that advice and report ask of a network with evidence, each answered exactly.

In: a `Network` and `Evidence`, by index. Out: `Beliefs`, `Prediction`s, leave-one-out posteriors.
The clique forest is grown once and serves every question; hypotheses are columns of one pass,
since "the finding is at most at this level" only changes the weights of its parents.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.beliefs import Beliefs, ImpossibleEvidence, Prediction
from tailblock.inference.factors import build
from tailblock.inference.propagate import propagate
from tailblock.inference.tree import CELL_LIMIT, grow, table_of
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.propagate import Totals
    from tailblock.network.arrays import Finding, FloatArray, Network, Side

# Below this chance of an answer, what it would do is rounding noise.
_NOISE = 1e-12


@dataclass(frozen=True, slots=True)
class LeaveOneOut:
    """`probability[r]` is the posterior of all nodes without the evidence of `findings[r]`."""

    findings: tuple[int, ...]
    probability: FloatArray


class Reasoner:
    """A network with its evidence entered, ready for questions."""

    def __init__(self, network: Network, evidence: Evidence, limit: int = CELL_LIMIT) -> None:
        """Grow the forest.

        Raises
        ------
        TooWide
            Exact inference is out of reach; nothing has been computed yet.
        """
        self.network = network
        self.evidence = Evidence(
            {k: tuple(_scaled(row)) for k, row in evidence.soft.items()}, evidence.hard
        )
        self._graph = build(network, self.evidence)
        self._forest = grow(self._graph, limit)
        self._tables = [table_of(bag)[:, None] for bag in self._forest.bags]
        self._weights = np.ones(len(network))
        self._log_scale = 0.0
        for entry in self._graph.weights:
            self._weights[list(entry.nodes)] *= entry.factor
            self._log_scale += float(np.log(entry.scale))

    @property
    def cells(self) -> int:
        """Return the size of all tables together: what one column costs."""
        return self._forest.cells

    @cached_property
    def _totals(self) -> Totals:
        return self._ask(self._weights[:, None])

    @cached_property
    def log_evidence(self) -> float:
        """Return the natural logarithm of the probability of the evidence, -inf if impossible."""
        constants = float(np.prod([float(factor.table) for factor in self._forest.constants]))
        if constants == 0.0:
            return -np.inf
        return float(self._totals.log_total[0] + np.log(constants)) + self._log_scale

    @cached_property
    def beliefs(self) -> Beliefs:
        """Return the posterior of every node.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        if not np.isfinite(self.log_evidence):
            raise ImpossibleEvidence(*self._culprits())
        return Beliefs(_frozen(self._totals.present[:, 0].clip(0.0, 1.0)), self.log_evidence)

    def predict(self, findings: Sequence[int]) -> tuple[Prediction, ...]:
        """Return what each finding would say if it were read next, and what that would do.

        Findings that carry evidence already are asked as if they were read anew.
        """
        present = self.beliefs.probability
        columns = [self._weights]
        spans = []
        for k in findings:
            grid = _hypotheses(self.network.findings[k], len(self.network))
            spans.append((len(columns), len(columns) + len(grid)))
            columns.extend(self._weights * factor for _, factor in grid)
        totals = self._ask(np.stack(columns, axis=1))
        share = np.exp(totals.log_total - totals.log_total[0])
        return tuple(
            _read_out(k, self.network.findings[k], share[a:b], totals.present[:, a:b], present)
            for k, (a, b) in zip(findings, spans, strict=True)
        )

    def leave_one_out(self) -> LeaveOneOut:
        """Return the posterior without each finding's evidence in turn."""
        entered = tuple(self.evidence.soft)
        row = {k: r for r, k in enumerate(entered)}
        weights = np.ones((len(self.network), len(entered)))
        for entry in self._graph.weights:
            others = np.ones(len(entered))
            others[row[entry.owner]] = 0.0
            weights[list(entry.nodes)] *= np.where(others, entry.factor[:, None], 1.0)
        tables = list(self._tables)
        for b, bag in enumerate(self._forest.bags):
            owners = {f.owner for f, _ in bag.factors if f.owner is not None}
            if owners:
                wide = np.repeat(self._tables[b], len(entered), axis=1)
                for owner in owners:
                    wide[:, row[owner]] = table_of(bag, skip=owner)
                tables[b] = wide
        if not entered:
            return LeaveOneOut((), np.empty((0, len(self.network))))
        totals = propagate(self._forest, tables, weights, len(self.network))
        return LeaveOneOut(entered, _frozen(totals.present.T.clip(0.0, 1.0)))

    def _ask(self, weights: FloatArray) -> Totals:
        return propagate(self._forest, self._tables, weights, len(self.network))

    def _culprits(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Return a smallest set of findings and nodes that contradict each other by themselves."""
        soft = dict(self.evidence.soft)
        hard = dict(self.evidence.hard)
        for k in tuple(soft):
            likelihood = soft.pop(k)
            if self._possible(soft, hard):
                soft[k] = likelihood
        for node in tuple(hard):
            present = hard.pop(node)
            if self._possible(soft, hard):
                hard[node] = present
        return tuple(soft), tuple(hard)

    def _possible(self, soft: dict[int, tuple[float, ...]], hard: dict[int, bool]) -> bool:
        return bool(np.isfinite(Reasoner(self.network, Evidence(soft, hard)).log_evidence))


def _scaled(likelihood: Sequence[float]) -> Sequence[float]:
    peak = max(likelihood)
    return likelihood if peak in (0.0, 1.0) else [value / peak for value in likelihood]


def _frozen(array: FloatArray) -> FloatArray:
    array.flags.writeable = False
    return array


def _side_weights(side: Side, level: int, nodes: int) -> FloatArray:
    weights = np.ones(nodes)
    weights[list(side.parents)] = side.cumulative[:, level]
    return weights


def _hypotheses(finding: Finding, nodes: int) -> list[tuple[tuple[int, int], FloatArray]]:
    """Return (low at most a, high at most b) and the weights that it means, for all a and b."""
    return [
        (
            (a, b),
            _side_weights(finding.low, a, nodes) * _side_weights(finding.high, b, nodes),
        )
        for a in range(finding.low.top + 1)
        for b in range(finding.high.top + 1)
    ]


def _read_out(
    k: int, finding: Finding, share: FloatArray, present: FloatArray, now: FloatArray
) -> Prediction:
    """Turn "at most" columns into outcomes: differences along both sides, then H - L."""
    tops = (finding.low.top + 1, finding.high.top + 1)
    leak = np.outer(finding.low.leak, finding.high.leak)
    total = leak * share.reshape(tops)
    joint = present.reshape(-1, *tops) * total
    for axis in (-2, -1):
        total = np.diff(total, axis=axis, prepend=0.0)
        joint = np.diff(joint, axis=axis, prepend=0.0)
    chance = np.zeros(finding.outcomes)
    both = np.zeros((finding.outcomes, len(now)))
    for a in range(tops[0]):
        for b in range(tops[1]):
            chance[b - a + finding.low.top] += total[a, b]
            both[b - a + finding.low.top] += joint[:, a, b]
    chance = chance.clip(0.0, None)
    said = chance[:, None] > _NOISE
    posterior = np.where(said, both / np.where(said, chance[:, None], 1.0), now)
    return Prediction(k, _frozen(chance), _frozen(posterior.clip(0.0, 1.0)))
