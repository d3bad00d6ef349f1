"""The questions that advice and report ask of a network with evidence, each answered exactly.

In: a `Network` and `Evidence`, by index. Out: `Beliefs`, `Prediction`s, leave-one-out posteriors.
The clique tree is grown and calibrated once and serves every question: what an unread finding
would say, and what would be believed without a reading, are small changes whose effects spread in
one sweep.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, cast

import numpy as np

from tailblock.inference.beliefs import Beliefs, ImpossibleEvidence, LeaveOneOut, Prediction
from tailblock.inference.factors import build, scaled
from tailblock.inference.hypotheses import Effects, questions_of, read_back
from tailblock.inference.outward import Outcome, spread, weigh
from tailblock.inference.propagate import calibrate
from tailblock.inference.regions import Change
from tailblock.inference.tree import CELL_LIMIT, grow, own_tables
from tailblock.inference.views import Views
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference.columns import Supposition
    from tailblock.inference.explanations import JointSet
    from tailblock.inference.propagate import Calibrated
    from tailblock.inference.sampling import States
    from tailblock.network.arrays import FloatArray, Network


# Dividing by less than this would bring rounding noise up with it.
_LEAST = 1e-9


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
        self.evidence = scaled(evidence)
        self._graph = build(network, self.evidence)
        self._forest = grow(self._graph, limit)
        self._weights, self._log_scale = self._products()
        # nodes x readings that can be undone: marginals without each, once a sweep has been made
        self._left_out: FloatArray | None = None

    @property
    def cells(self) -> int:
        """Return the size of all tables together: what one column costs."""
        return self._forest.cells

    @cached_property
    def _own(self) -> Sequence[FloatArray]:
        return own_tables(self._forest)

    @cached_property
    def _calibrated(self) -> Calibrated:
        return calibrate(self._forest, self._own, self._weights)

    @cached_property
    def _bare(self) -> Calibrated:
        return calibrate(self._forest, self._own, np.ones(len(self.network)), evidence=False)

    @cached_property
    def _views(self) -> Views:
        return Views(self._calibrated, len(self.network))

    @cached_property
    def priors(self) -> Beliefs:
        """Return the probability of every node before any evidence, over the same tree."""
        marginals = self._bare.marginals(len(self.network))
        return Beliefs(_frozen(marginals.clip(0.0, 1.0)), 0.0)

    @cached_property
    def log_evidence(self) -> float:
        """Return the natural logarithm of the probability of the evidence, -inf if impossible."""
        constants = float(np.prod([float(factor.table) for factor in self._forest.constants]))
        if constants == 0.0:
            return -np.inf
        return float(self._calibrated.log_total) + float(np.log(constants)) + self._log_scale

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
        marginals = self._calibrated.marginals(len(self.network))
        return Beliefs(_frozen(marginals.clip(0.0, 1.0)), self.log_evidence)

    def predict(self, findings: Sequence[int]) -> tuple[Prediction, ...]:
        """Return what each finding would say if it were read next, and what that would do.

        Findings that carry evidence already are asked as if they were read anew.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        now = self.beliefs.probability
        questions = questions_of(self.network)
        asked = [questions.about(k) for k in findings]
        wanted = set[int]().union(*(one.changes.tolist() for one in asked))
        # not np.unique: it imports numpy.ma, a thirtieth of a cold `next`
        numbers = np.array(sorted(wanted), dtype=np.intp)
        outcome = self._spread(questions.changes(numbers))
        return read_back(findings, asked, Effects.of(numbers, outcome, now))

    def weigh(self, changes: Sequence[Change]) -> FloatArray:
        """Return the share of the weight that each change leaves, given all the evidence.

        What a change would do is not worked out, which is most of the cost of a prediction.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        _ = self.beliefs
        return weigh(self._views, changes)

    def best_sets(
        self, nodes: Sequence[int], count: int, least: float = 0.0
    ) -> tuple[JointSet, ...]:
        """Return the most probable joint states of some nodes, all others being summed over.

        See `explanations.best_sets`.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        from tailblock.inference.explanations import best_sets  # noqa: PLC0415

        _ = self.beliefs
        return best_sets(self._calibrated, nodes, count, least)

    def draw(self, count: int, generator: np.random.Generator, *, evidence: bool = True) -> States:
        """Return joint states of all nodes, one a row: given the evidence, or without any.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero, and was asked for.
        """
        from tailblock.inference.sampling import draw  # noqa: PLC0415

        if evidence:
            _ = self.beliefs
        calibrated = self._calibrated if evidence else self._bare
        return draw(calibrated, len(self.network), count, generator)

    def log_evidence_if(self, suppositions: Sequence[Supposition]) -> FloatArray:
        """Return the natural logarithm of the probability of the evidence under suppositions.

        For each of them: of the nodes that it takes as seen together with all the evidence but
        what it leaves out; -inf if that is impossible. Likelihoods are scaled to a maximum of 1.
        """
        from tailblock.inference.columns import log_totals, suppose  # noqa: PLC0415

        slots, choices, owners = suppose(self._graph, self._forest, suppositions)
        weights, log_scale = self._products(owners)
        return log_scale + log_totals(self._forest, weights, owners, slots, choices)

    def leave_one_out(self) -> LeaveOneOut:
        """Return the posterior without each finding's evidence in turn.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        _ = self.beliefs
        if self._left_out is None:
            self._spread([])
        rows = dict(zip(self._undone, cast("FloatArray", self._left_out).T, strict=True))
        entered = tuple(self.evidence.soft)
        for k in entered:
            if k not in rows:
                rest = {other: row for other, row in self.evidence.soft.items() if other != k}
                alone = Reasoner(self.network, Evidence(rest, self.evidence.hard))
                rows[k] = alone.beliefs.probability
        table = np.array([rows[k] for k in entered]).reshape(len(entered), len(self.network))
        return LeaveOneOut(entered, _frozen(table))

    @cached_property
    def _undone(self) -> dict[int, Change]:
        """Return what takes out each reading that a factor can take out."""
        changes = {k: self._without(k) for k in self.evidence.soft}
        return {k: change for k, change in changes.items() if change is not None}

    def _spread(self, changes: Sequence[Change]) -> Outcome:
        """Return the effect of changes.

        The first sweep takes the readings out as well: a sweep costs by its bags more than by what
        it carries through them.
        """
        if self._left_out is not None:
            return spread(self._views, changes)
        both = spread(self._views, [*changes, *self._undone.values()])
        asked = len(changes)
        self._left_out = both.present[:, asked:].clip(0.0, 1.0)
        return Outcome(both.share[:asked], both.present[:, :asked])

    def _products(self, without: frozenset[int] = frozenset()) -> tuple[FloatArray, float]:
        """Return what rank-one evidence multiplies the weights by, and the logarithm of the rest.

        That of the findings `without` does not count.
        """
        weights, log_scale = np.ones(len(self.network)), 0.0
        for entry in self._graph.weights:
            if entry.owner not in without:
                weights[list(entry.nodes)] *= entry.factor
                log_scale += float(np.log(entry.scale))
        return weights, log_scale

    def _without(self, k: int) -> Change | None:
        """Return the change that takes the evidence of finding `k` out again: its inverse.

        None if it rules something out altogether, which no factor can bring back.
        """
        ruled = {
            node: factor
            for entry in self._graph.weights
            if entry.owner == k
            for node, factor in zip(entry.nodes, entry.factor.tolist(), strict=True)
        }
        own = [
            (b, lining, factor.table)
            for b, bag in enumerate(self._forest.bags)
            for factor, lining in bag.factors
            if factor.owner == k
        ]
        least = min([*ruled.values(), *(float(table.min()) for _, _, table in own)], default=1.0)
        if least < _LEAST:
            return None
        weights = {node: (1.0, 1.0 / factor) for node, factor in ruled.items()}
        return Change(weights, tuple((b, lining, 1.0 / table) for b, lining, table in own))

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


def _frozen(array: FloatArray) -> FloatArray:
    array.flags.writeable = False
    return array
