"""A network too dense for one narrow tree, answered over several, exactly.

In: a `Network`, `Evidence`, the nodes that are asked about. Out: the answers of a `Reasoner`. Every
tree holds what the evidence bears on, so each knows all of it; a question about nodes that a tree
does not hold is put to it in terms of those that it holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.beliefs import Beliefs, ImpossibleEvidence, Prediction
from tailblock.inference.expansion import expanded
from tailblock.inference.factors import evidence_scopes, scaled
from tailblock.inference.hypotheses import columns_of, read_back
from tailblock.inference.outward import Change, Outcome
from tailblock.inference.portions import divide
from tailblock.inference.reasoner import LeaveOneOut, Reasoner
from tailblock.inference.tree import CELL_LIMIT
from tailblock.network.arrays import Evidence

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tailblock.inference.hypotheses import Key
    from tailblock.inference.portions import Portion
    from tailblock.network.arrays import FloatArray, Network


@dataclass(frozen=True, slots=True)
class _Tree:
    """A part of the network with its own numbering, and the engine that reasons in it."""

    portion: Portion
    place: dict[int, int]  # node -> its number here
    reasoner: Reasoner


class Divided:
    """A network with its evidence entered, ready for questions about some of its nodes.

    What is handed out has one row a node of the whole network, as if one `Reasoner` had made it;
    only of nodes that were not `asked` about the numbers may be missing (nan).
    """

    def __init__(
        self,
        network: Network,
        evidence: Evidence,
        asked: Iterable[int] | None = None,
        limit: int = CELL_LIMIT,
    ) -> None:
        """Divide the network and grow the trees.

        Parameters
        ----------
        asked
            The nodes whose probabilities are wanted; all, if left out.
        limit
            The most table cells that a tree may need.

        Raises
        ------
        TooWide
            Exact inference is out of reach; nothing has been computed yet.
        """
        self.network = network
        self.evidence = scaled(evidence)
        self.asked = tuple(range(len(network)) if asked is None else sorted(set(asked)))
        bearing = [n for k in self.evidence.soft for n in network.findings[k].parents]
        portions = divide(
            network.parents,
            [*bearing, *self.evidence.hard],
            evidence_scopes(network, self.evidence),
            self.asked,
        )
        self._trees = tuple(self._grown(portion, limit) for portion in portions)

    def _grown(self, portion: Portion, limit: int) -> _Tree:
        place = {node: i for i, node in enumerate(portion.nodes)}
        entered = list(self.evidence.soft)
        network = self.network.restricted(portion.nodes, entered)
        evidence = Evidence(
            dict(enumerate(self.evidence.soft.values())),
            {place[node]: there for node, there in self.evidence.hard.items()},
        )
        tells = [place[node] for node in portion.tells]
        return _Tree(portion, place, Reasoner(network, evidence, limit, tells))

    @property
    def cells(self) -> int:
        """Return the size of all tables of all trees together: what one column costs."""
        return sum(tree.reasoner.cells for tree in self._trees)

    @property
    def log_evidence(self) -> float:
        """Return the natural logarithm of the probability of the evidence, -inf if impossible."""
        return self._trees[0].reasoner.log_evidence

    @cached_property
    def beliefs(self) -> Beliefs:
        """Return the posterior of every node asked about.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        try:
            parts = [tree.reasoner.beliefs for tree in self._trees]
        except ImpossibleEvidence as error:
            raise self._renamed(error) from error
        return Beliefs(self._gathered([part.probability for part in parts]), self.log_evidence)

    @cached_property
    def priors(self) -> Beliefs:
        """Return the probability of every node asked about before any evidence."""
        parts = [tree.reasoner.priors.probability for tree in self._trees]
        return Beliefs(self._gathered(parts), 0.0)

    def predict(self, findings: Sequence[int]) -> tuple[Prediction, ...]:
        """Return what each finding would say if it were read next, and what that would do.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        now = self.beliefs.probability[list(self.asked)]
        wanted = [columns_of(self.network.findings[k]) for k in findings]
        keys = list(dict.fromkeys(key for columns in wanted for key in columns.keys))
        number = {key: i for i, key in enumerate(keys)}
        row = {node: i for i, node in enumerate(self.asked)}
        share = np.empty(len(keys))
        joint = np.empty((len(self.asked), len(keys)))
        for tree in self._trees:
            outcome = self._asked_of(tree, keys)
            share = outcome.share
            joint[[row[node] for node in tree.portion.tells]] = outcome.joint
        whole = Outcome(share, joint)
        predictions = (
            read_back(
                k,
                self.network.findings[k],
                columns,
                whole.at([number[key] for key in columns.keys]),
                now,
            )
            for k, columns in zip(findings, wanted, strict=True)
        )
        return tuple(
            Prediction(p.finding, p.chance, self._spread_out(p.posterior)) for p in predictions
        )

    def leave_one_out(self) -> LeaveOneOut:
        """Return the posterior without each finding's evidence in turn.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        """
        _ = self.beliefs
        entered = tuple(self.evidence.soft)
        table = np.full((len(entered), len(self.network)), np.nan)
        for tree in self._trees:
            table[:, list(tree.portion.tells)] = tree.reasoner.leave_one_out().probability
        table.flags.writeable = False
        return LeaveOneOut(entered, table)

    def _asked_of(self, tree: _Tree, keys: Sequence[Key]) -> Outcome:
        """Return the effects of some columns on the nodes that a tree tells about."""
        held = tree.place.keys()
        sums = [expanded(key, self.network, held) for key in keys]
        asked = {product: i for i, product in enumerate(dict.fromkeys(p for s in sums for p in s))}
        outcome = tree.reasoner.effects(
            [Change({tree.place[n]: (a, p) for n, a, p in product}) for product in asked]
        )
        mixing = np.zeros((len(asked), len(keys)))
        for column, terms in enumerate(sums):
            for product, coefficient in terms.items():
                mixing[asked[product], column] = coefficient
        return Outcome(outcome.share @ mixing, outcome.joint @ mixing)

    def _gathered(self, parts: Sequence[FloatArray]) -> FloatArray:
        """Return what each tree tells about its own nodes, as one row of all nodes."""
        row = np.full(len(self.network), np.nan)
        for tree, part in zip(self._trees, parts, strict=True):
            tells = list(tree.portion.tells)
            row[tells] = part[[tree.place[node] for node in tells]]
        row.flags.writeable = False
        return row

    def _spread_out(self, of_asked: FloatArray) -> FloatArray:
        whole = np.full((len(of_asked), len(self.network)), np.nan)
        whole[:, list(self.asked)] = of_asked
        whole.flags.writeable = False
        return whole

    def _renamed(self, error: ImpossibleEvidence) -> ImpossibleEvidence:
        """Return the same contradiction in the numbers of the whole network."""
        entered = list(self.evidence.soft)
        nodes = self._trees[0].portion.nodes
        return ImpossibleEvidence(
            tuple(entered[k] for k in error.findings), tuple(nodes[node] for node in error.nodes)
        )
