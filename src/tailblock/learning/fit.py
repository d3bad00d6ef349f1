"""Chances as learned from cases, with how many trials stand behind each.

In: cases, the chances as they are written, and the strength of those words. Out: `Learned`.

Each chance s has as its prior the beta distribution with shapes mu n and (1 - mu) n, mu being what
the checklist says and n how many trials that is worth. With the expected trials T and successes S
of all cases (see `inference.counts`), the slope of the logarithm of the posterior along the
log-odds of s is

    (S + mu n) - s (T + n)

(R. A. Fisher's identity), which is 0 at the most probable s: (S + mu n) / (T + n), the step of EM,
and where everything is seen the posterior mean. What is learned maximises the posterior over the
log-odds of all chances together.

How much is known follows from the information at that place. How rival explanations of one fault,
its leak and its links, lean on one another is taken from how the scores of the cases go together
(I. Meilijson, 1989); what is known of each by itself is exact, complete less missing information
(T. A. Louis, 1982), where that is more. Chances of different faults count as known apart. A chance
that is known as well as from N trials seen in full has the interval of the beta distribution with
shapes s N and (1 - s) N. Both sources are from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from tailblock.measures.proportion import beta_quantile

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.learning.cases import Told
    from tailblock.network.arrays import FloatArray, IndexArray

STRENGTH = 20.0  # trials that a word of the checklist is worth
INTERVAL = 0.90
_ROUNDS = 60
_NEAR = 1e-3  # of the logarithm of the posterior: what one more round would gain
_FARTHEST = 2.0  # that a chance moves in one round, in log-odds


class Telling(Protocol):
    """A case: see `cases.Case`."""

    def told(self, chances: FloatArray, /) -> Told: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Learned:
    """The chances after the cases, one number a chance in every array.

    `met`: expected trials. `trials`: how many trials seen in full would tell as much; no more than
    `met` but for rounding. `strength`: of the prior, in trials.
    """

    before: FloatArray
    chance: FloatArray
    met: FloatArray
    trials: FloatArray
    strength: float

    def interval(self, at: int, share: float = INTERVAL) -> tuple[float, float]:
        """Return within what the chance lies with that probability, as much on either side."""
        known = self.trials[at] + self.strength
        a, b = float(self.chance[at] * known), float((1.0 - self.chance[at]) * known)
        rest = (1.0 - share) / 2.0
        return beta_quantile(rest, a, b), beta_quantile(1.0 - rest, a, b)


def learn(
    cases: Sequence[Telling],
    before: FloatArray,
    rivals: Sequence[IndexArray],
    strength: float = STRENGTH,
) -> Learned:
    """Return the chances as learned.

    Parameters
    ----------
    cases
        Each possible with the chances as they are; where none tells anything of a chance, it stays.
    before
        What the checklist says, from 0 to 1 exclusive.
    rivals
        The places of chances that explain one and the same; each place stands in one of them.
    strength
        How many trials that is worth.
    """
    here = _Place(cases, before, before, strength)
    for _ in range(_ROUNDS):
        step = here.step(rivals)
        if step @ here.slope < _NEAR:
            break
        step *= min(1.0, _FARTHEST / float(np.abs(step).max()))
        there = _Place(cases, _moved(here.chance, step), before, strength)
        while there.log_posterior < here.log_posterior - _NEAR:
            step = step / 2.0
            there = _Place(cases, _moved(here.chance, step), before, strength)
        here = there
    spread = here.variance(rivals) * here.chance * (1.0 - here.chance)
    trials = np.clip(1.0 / spread - strength, 0.0, None)
    return Learned(before, here.chance, here.met, trials, strength)


class _Place:
    """The posterior of some chances: its logarithm, slope and information along their log-odds."""

    def __init__(
        self,
        cases: Sequence[Telling],
        chance: FloatArray,
        before: FloatArray,
        strength: float,
    ) -> None:
        self.chance = chance
        self._strength = strength
        self._scores = np.zeros((len(cases), len(chance)))
        self.met = np.zeros(len(chance))
        self.log_posterior = strength * float(
            before @ np.log(chance) + (1.0 - before) @ np.log1p(-chance)
        )
        for row, case in enumerate(cases):
            told = case.told(chance)
            self._scores[row, told.at] = told.successes - chance[told.at] * told.trials
            self.met[told.at] += told.trials
            self.log_posterior += told.log_evidence
        self.slope = self._scores.sum(axis=0) + strength * (before - chance)

    def step(self, rivals: Sequence[IndexArray]) -> FloatArray:
        """Return the way to the summit of a posterior as round as this one is here [log-odds]."""
        step: FloatArray = np.zeros(len(self.chance))
        for group in rivals:
            step[group] = self._covariance(group) @ self.slope[group]
        return step

    def variance(self, rivals: Sequence[IndexArray]) -> FloatArray:
        """Return the variance of the log-odds of each chance."""
        variance: FloatArray = np.zeros(len(self.chance))
        for group in rivals:
            variance[group] = np.diag(self._covariance(group))
        return variance

    def _covariance(self, group: IndexArray) -> FloatArray:
        """Return the inverse of the information on some chances, cases and prior together."""
        scores, chance = self._scores[:, group], self.chance[group]
        total = scores.sum(axis=0)
        apart = scores - total / len(scores)
        information = apart.T @ apart
        # of one trial that is there or not, complete less missing information comes to this
        own = (scores**2).sum(axis=0) - (1.0 - 2.0 * chance) * total
        information += np.diag(np.clip(own - np.diag(information), 0.0, None))
        prior = self._strength * chance * (1.0 - chance)
        answer: FloatArray = np.linalg.inv(information + np.diag(prior))
        return answer


def _moved(chance: FloatArray, step: FloatArray) -> FloatArray:
    """Return chances moved in log-odds."""
    odds_against = (1.0 - chance) / chance * np.exp(-step)
    moved: FloatArray = 1.0 / (1.0 + odds_against)
    return moved
