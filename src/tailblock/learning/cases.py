"""A case, as far as it puts chances of its checklist to the test.

In: a compiled network, its checklist and traits, and the evidence. Out: `Case`, which tells for
any values of the chances how often each was put to the test and how often it came true.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.counts import Counter, numbers_of
from tailblock.network.written import written_in

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.network import Compiled, Evidence
    from tailblock.network.arrays import FloatArray, IndexArray
    from tailblock.network.written import Written


@dataclass(frozen=True, slots=True)
class Told:
    """What one case says of some chances.

    `at`: the places of the chances. `trials`, `successes`: their expected numbers given all that is
    known of the case. `log_evidence`: natural logarithm of the probability of what is known.
    """

    at: IndexArray
    trials: FloatArray
    successes: FloatArray
    log_evidence: float


class Index(dict["Written", int]):
    """The written chances of a checklist, each with its place; one that is new gets the next."""

    def __missing__(self, written: Written) -> int:
        self[written] = len(self)
        return self[written]


class Case:
    """One inspection of an instrument, ready to be counted again and again."""

    def __init__(
        self,
        compiled: Compiled,
        checklist: Checklist,
        traits: Mapping[str, str],
        evidence: Evidence,
        index: Index,
    ) -> None:
        """Tie the numbers of the network to the chances of the checklist.

        Raises
        ------
        TooWide
            Exact inference is out of reach.
        """
        network = compiled.network
        self._counter = Counter(network, evidence)
        self._numbers = numbers_of(network)
        tied = [
            (place, index[written], weight)
            for place, mixture in enumerate(written_in(compiled, checklist, traits))
            for written, weight in mixture
        ]
        self._number = np.array([place for place, _, _ in tied], dtype=np.intp)
        self._chance = np.array([chance for _, chance, _ in tied], dtype=np.intp)
        self._weight = np.array([weight for _, _, weight in tied])
        self._link = self._number >= len(network)

    def told(self, chances: FloatArray) -> Told:
        """Return what the case says if the chances are these, one for each place of the index.

        Where a number is made of several chances, trials and successes are shared out among them by
        the probability that each of them was the one.
        """
        weight, link, number = self._weight, self._link, self._number
        own = chances[self._chance]
        part = weight * own
        numbers = self._numbers.copy()
        numbers[number] = 0.0
        np.add.at(numbers, number[~link], part[~link])
        spared = np.zeros_like(numbers)
        np.add.at(spared, number[link], np.log1p(-part[link]))
        numbers[number[link]] = -np.expm1(spared[number[link]])
        counts = self._counter.count(numbers)
        whole, trials, acted = (
            array[number] for array in (numbers, counts.trials, counts.successes)
        )
        successes = acted * np.divide(part, whole, out=np.zeros_like(part), where=whole > 0.0)
        left = np.where(link, trials - successes, trials - acted)
        beside = np.where(link, 1.0 - part, 1.0 - whole)
        missed = weight * (1.0 - own)
        failures = left * np.divide(missed, beside, out=np.zeros_like(part), where=beside > 0.0)
        at, back = np.unique(self._chance, return_inverse=True)
        gathered = np.zeros((len(at), 2))
        np.add.at(gathered, back, np.stack([successes + failures, successes], axis=1))
        return Told(at, gathered[:, 0], gathered[:, 1], counts.log_evidence)
