"""Beliefs by sampling, for a network that is too wide to be summed exactly.

In: a `Network` and `Evidence`. Out: the same answers as a `Reasoner`, approximate, with their
error. Gibbs sampling (S. Geman and D. Geman, IEEE PAMI 6, 1984): many chains side by side, each
beginning with an instrument drawn from the checklist; in a sweep every node is drawn anew from its
chance given all others. The mean of these chances, not of the draws, is the estimate
(Rao-Blackwellised: A. E. Gelfand and A. F. M. Smith, JASA 85, 1990). Both citations are from
memory.

The chains know nothing of each other, so the spread of their means gives the standard error, with
all that neighbouring sweeps share already in it. `error` is four standard errors of the worst node.
It cannot see what no chain has found; contradictory readings are not found out either. Draws are
seeded: the same readings give the same numbers.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.beliefs import Beliefs, LeaveOneOut, Prediction
from tailblock.inference.factors import at_most, outcome_table, scaled

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import numpy.typing as npt

    from tailblock.network.arrays import Evidence, FloatArray, Network

    States = npt.NDArray[np.bool_]

CHAINS = 200
SETTLING = 100  # sweeps before the first that counts
SWEEPS = 200  # sweeps that count
KEPT_EVERY = 5  # sweeps, of which one is kept for what it says of unread findings
PRIOR_BLOCKS = 100  # as many batches of CHAINS independent draws
STANDARD_ERRORS = 4.0
_SEED = 1984
_TINY = float(np.finfo(float).tiny)
_NEVER = 1e-9  # stands for a chance of 0, so that no chain is caught where all is impossible


class Sampler:
    """A network with its evidence entered, answering from samples."""

    def __init__(self, network: Network, evidence: Evidence) -> None:
        """Lay out the arrays; nothing is drawn yet."""
        self.network = network
        self.evidence = scaled(evidence)
        n = len(network)
        # of each node the chance of its absence: log(1 - alone) plus a term for each cause there
        self._alone = _log(1.0 - network.alone)
        self._links = np.zeros((n, n))  # cause x effect
        for node in range(n):
            for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
                self._links[cause, node] = _log(np.array(1.0 - strength))
        self._children = [np.flatnonzero(self._links[node]) for node in range(n)]
        self._weights = np.ones(n)
        self._tables: list[tuple[tuple[int, ...], FloatArray]] = []
        for k, row in self.evidence.soft.items():
            finding, likelihood = network.findings[k], np.asarray(row)
            plain = at_most(k, finding, likelihood)
            if plain is not None:
                self._weights[list(plain.nodes)] *= plain.factor
            else:
                parents = finding.parents
                table = outcome_table(finding, parents).reshape(-1, finding.outcomes) @ likelihood
                self._tables.append((parents, np.maximum(table, _NEVER)))
        self._weights = np.maximum(self._weights, _NEVER)
        self._looked_at: list[list[tuple[int, int]]] = [[] for _ in range(n)]
        for t, (parents, _) in enumerate(self._tables):
            for place, node in enumerate(parents):
                self._looked_at[node].append((t, 1 << (len(parents) - 1 - place)))

    @cached_property
    def priors(self) -> Beliefs:
        """Return the probability of every node before any evidence, from independent draws."""
        dice = np.random.default_rng(_SEED)
        blocks = [self._drawn(dice, {})[1].mean(axis=1) for _ in range(PRIOR_BLOCKS)]
        return _beliefs(np.array(blocks), 0.0)

    @property
    def beliefs(self) -> Beliefs:
        """Return the posterior of every node."""
        return self._run[0]

    def predict(self, findings: Sequence[int]) -> tuple[Prediction, ...]:
        """Return what each finding would say if it were read next, and what that would do.

        What an answer would do to a node counts only where it stands out of the spread between the
        chains by four standard errors: chance fluctuations are no information.
        """
        return tuple(self._prediction(k) for k in findings)

    def leave_one_out(self) -> LeaveOneOut:
        """Return the posterior without each finding's evidence in turn.

        The kept states are weighed by one over what the finding said of them.
        """
        flat = self._states.reshape(-1, len(self.network)).astype(float)
        rows = []
        for k, row in self.evidence.soft.items():
            told = self._outcomes(k) @ np.asarray(row)
            weight = 1.0 / np.maximum(told, _NEVER).reshape(-1)
            rows.append(weight @ flat / weight.sum())
        table = np.array(rows).reshape(len(rows), len(self.network))
        return LeaveOneOut(tuple(self.evidence.soft), table)

    @property
    def _states(self) -> States:
        """Return the kept states: chains x sweeps x nodes."""
        return self._run[1]

    @cached_property
    def _run(self) -> tuple[Beliefs, States]:
        dice = np.random.default_rng(_SEED)
        state, _ = self._drawn(dice, self.evidence.hard)
        total = np.zeros(state.shape)
        kept: list[States] = []
        for sweep in range(SETTLING + SWEEPS):
            chance = self._sweep(state, dice)
            if sweep >= SETTLING:
                total += chance
                if sweep % KEPT_EVERY == 0:
                    kept.append(state.T.copy())
        return _beliefs(total.T / SWEEPS, np.nan), np.stack(kept, axis=1)

    def _drawn(
        self, dice: np.random.Generator, seen: Mapping[int, bool]
    ) -> tuple[States, FloatArray]:
        """Return one instrument a chain, causes first, and the chance of each node: n x chains."""
        state = np.zeros((len(self.network), CHAINS), dtype=bool)
        chance = np.empty(state.shape)
        for node, causes in enumerate(self.network.parents):
            links = self._links[list(causes), node]
            chance[node] = 1.0 - np.exp(self._alone[node] + links @ state[list(causes)])
            drawn = dice.random(CHAINS) < chance[node]
            state[node] = seen.get(node, drawn)
        return state, chance

    def _sweep(self, state: States, dice: np.random.Generator) -> FloatArray:
        """Draw every node anew given all others, in place; return the chances drawn with."""
        chance = np.empty(state.shape)
        log_absent = self._alone[:, None] + self._links.T @ state
        index = [_bits(len(parents)) @ state[list(parents)] for parents, _ in self._tables]
        draws = dice.random(state.shape)
        for node in range(len(self.network)):
            if node in self.evidence.hard:
                chance[node] = self.evidence.hard[node]
                continue
            was = state[node].astype(int)
            absent, present = self._both(node, state, log_absent, index)
            chance[node] = present / (absent + present)
            state[node] = draws[node] < chance[node]
            turned = state[node] - was
            children = self._children[node]
            if len(children):
                log_absent[children] += self._links[node, children][:, None] * turned
            for t, bit in self._looked_at[node]:
                index[t] += turned * bit
        return chance

    def _both(
        self,
        node: int,
        state: States,
        log_absent: FloatArray,
        index: Sequence[npt.NDArray[np.int64]],
    ) -> tuple[FloatArray, FloatArray]:
        """Return the weight of a node's absence and presence in each chain, all others given."""
        absent = np.exp(log_absent[node])
        present = (1.0 - absent) * self._weights[node]
        was = state[node].astype(int)
        children = self._children[node]
        if len(children):
            links = self._links[node, children][:, None]
            there = state[children]
            without = log_absent[children] - was * links
            quiet, acting = np.exp(without), np.exp(without + links)
            absent = absent * np.where(there, 1.0 - quiet, quiet).prod(axis=0)
            present = present * np.where(there, 1.0 - acting, acting).prod(axis=0)
        for t, bit in self._looked_at[node]:
            table = self._tables[t][1]
            low = index[t] - was * bit
            absent = absent * table[low]
            present = present * table[low + bit]
        return absent + _TINY, present + _TINY

    def _outcomes(self, k: int) -> FloatArray:
        """Return P(outcome of finding k) in every kept state: chains x sweeps x outcomes."""
        finding = self.network.findings[k]
        parents = finding.parents
        table = outcome_table(finding, parents).reshape(-1, finding.outcomes)
        answer: FloatArray = table[self._states[..., list(parents)] @ _bits(len(parents))]
        return answer

    def _prediction(self, k: int) -> Prediction:
        now = self.beliefs.probability
        told = self._outcomes(k)
        chance = told.mean(axis=(0, 1))
        states = self._states.astype(float)
        # of each chain the covariance of node and answer: what the answer would do to the node
        together = np.matmul(told.transpose(0, 2, 1), states) / states.shape[1]
        apart = told.mean(axis=1)[:, :, None] * states.mean(axis=(0, 1))
        moved = together - apart
        mean = moved.mean(axis=0)
        error = moved.std(axis=0, ddof=1) / np.sqrt(len(moved))
        real = (np.abs(mean) > STANDARD_ERRORS * error) & (chance[:, None] > _NEVER)
        by = np.where(real, mean / np.maximum(chance[:, None], _NEVER), 0.0)
        return Prediction(k, chance, (now + by).clip(0.0, 1.0))


def _bits(parents: int) -> npt.NDArray[np.int64]:
    """Return what each parent counts in the index of a table, the first most."""
    answer: npt.NDArray[np.int64] = 1 << np.arange(parents)[::-1]
    return answer


def _beliefs(by_chain: FloatArray, log_evidence: float) -> Beliefs:
    probability = by_chain.mean(axis=0).clip(0.0, 1.0)
    error = by_chain.std(axis=0, ddof=1) / np.sqrt(len(by_chain))
    return Beliefs(probability, log_evidence, STANDARD_ERRORS * float(error.max(initial=0.0)))


def _log(chance: FloatArray) -> FloatArray:
    answer: FloatArray = np.log(np.maximum(chance, _TINY))
    return answer
