"""What the engine knows of an instrument from the readings of one visit.

In: the network with these readings entered, and the state of the visit. Out: `Known`: what could be
read next, the probability of every fault, how far these are from the truth.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.candidates import candidate_of, candidates
from tailblock.advice.gain import entropy
from tailblock.advice.held_back import open_danger
from tailblock.advice.ranking import SUREST, rank, standing, weight

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from tailblock.advice import CauseBelief
    from tailblock.advice.candidates import Candidate
    from tailblock.advice.situation import Situation
    from tailblock.inference import Beliefs, Reasoner
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.compile import Compiled


@dataclass(frozen=True)
class Known:
    """What the readings of a visit say so far.

    What nobody asks for is not worked out.

    Raises
    ------
    ImpossibleEvidence
        Whatever asks for a probability: the readings contradict each other.
    """

    checklist: Checklist
    compiled: Compiled
    situation: Situation
    reasoner: Reasoner
    priors: Beliefs

    @cached_property
    def found(self) -> tuple[Candidate, ...]:
        """Return what could be read."""
        return candidates(self.situation)

    @cached_property
    def probability(self) -> Mapping[str, float]:
        """Return the probability of every fault that applies."""
        return standing(self.checklist, self.compiled, self.reasoner.beliefs)

    @cached_property
    def causes(self) -> tuple[CauseBelief, ...]:
        """Return the same with what the readings did to it, the most probable first."""
        return rank(self.checklist, self.compiled, self.reasoner.beliefs, self.priors)

    @cached_property
    def open_danger(self) -> tuple[str, ...]:
        """Return the danger faults above the limit, the most probable first."""
        return open_danger(self.checklist, self.probability)

    @property
    def held(self) -> bool:
        """Return whether an open danger holds back what adds tension or load."""
        return bool(self.open_danger)

    @cached_property
    def uncertainty(self) -> float:
        """Return the harm-weighted uncertainty: the weighted sum of the faults' entropies [bits].

        `sum over faults of w_i H(p_i)`, weights and entropy as in the gain of a check.
        """
        scales = self.checklist.limits
        weights = [weight(self.checklist.faults[id_], scales) for id_ in self.probability]
        return float(np.array(weights) @ entropy(np.array([*self.probability.values()])))

    def missing(self, there: Collection[str]) -> float:
        """Return how far the beliefs are from the truth (see `distance`) [bits]."""
        return distance(self.checklist, self.probability, there)

    def offered(self) -> tuple[str, ...]:
        """Return the unread checks that may be done now, in file order, whatever they tell."""
        return tuple(one.tells for one in self.found if self._may_be_done(one))

    def offers(self, name: str) -> bool:
        """Return whether one check is among those offered; the others are not worked out."""
        one = candidate_of(self.situation, self.checklist.checks[name])
        return one is not None and self._may_be_done(one)

    def _may_be_done(self, one: Candidate) -> bool:
        """Return whether somebody can do it, and no open danger holds it back, as in the advice."""
        return (
            one.tells == one.check
            and (one.calm_way if self.held else one.way) is not None
            and not (self.held and one.loading)
        )


def distance(
    checklist: Checklist, probability: Mapping[str, float], there: Collection[str]
) -> float:
    """Return how far beliefs are from the truth, harm-weighted [bits], 0 if they are it.

    `sum over faults of -w_i log2 P(F_i is as it is)`, with chances kept 1e-12 from 0 and 1.

    Parameters
    ----------
    probability
        Of every fault that applies.
    there
        The faults that are there; all others are not.

    Source: I. J. Good, "Rational decisions", 1952, the logarithmic score (from memory).
    """
    weights = [weight(checklist.faults[id_], checklist.limits) for id_ in probability]
    true = [p if id_ in there else 1.0 - p for id_, p in probability.items()]
    return float(np.array(weights) @ -np.log2(np.clip(true, SUREST, 1.0)))
