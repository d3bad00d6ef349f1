"""What the hours of all options of one inspection have in common: its jobs, and whom to ask.

In: the compiled network and a weigher with all readings. Out: `Jobs`. The jobs are drawn once, and
the probability of each partial state of the faults is worked out once.
"""

from __future__ import annotations

from copy import deepcopy
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.hypotheses import questions_of
from tailblock.inference.regions import Change

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice.hours.chances import State
    from tailblock.advice.weighing import Weigher
    from tailblock.inference.sampling import States
    from tailblock.network.arrays import FloatArray
    from tailblock.network.compile import Compiled

DRAWN = 20_000  # jobs
SEED = 0  # the same plan gets the same answer every time


class Jobs:
    """Instruments with these readings, as many as there are ways that it can be."""

    def __init__(
        self, compiled: Compiled, weigher: Weigher, drawn: int = DRAWN, seed: int = SEED
    ) -> None:
        self.compiled, self.weigher, self.drawn = compiled, weigher, drawn
        self._seed = seed
        self._known: dict[State, float] = {}

    @cached_property
    def _begun(self) -> tuple[States, np.random.Generator]:
        dice = np.random.default_rng(self._seed)
        return self.weigher.draw(self.drawn, dice), dice

    @property
    def states(self) -> States:
        """Return which node is there in each job, one a row."""
        return self._begun[0]

    def dice(self) -> np.random.Generator:
        """Return a generator that goes on behind the jobs, from the same place each time."""
        return deepcopy(self._begun[1])

    def there(self, fault: str) -> States:
        """Return whether each job has a fault.

        Raises
        ------
        KeyError
            The instrument cannot have that fault.
        """
        return self.states[:, self.compiled.node_of(fault)]

    def ask(self, states: Sequence[State]) -> FloatArray:
        """Return the probability of each of some partial states of the last visit's faults.

        Raises
        ------
        KeyError
            The instrument cannot have one of the faults.
        """
        new = [state for state in dict.fromkeys(states) if state not in self._known]
        share = self.weigher.weigh([Change(self._weights(state)) for state in new])
        self._known.update(zip(new, share.tolist(), strict=True))
        return np.array([self._known[state] for state in states])

    def say(self, finding: int, states: Sequence[State]) -> FloatArray:
        """Return P(what a finding says, state), given all readings: its outcomes x states."""
        questions = questions_of(self.compiled.network)
        question = questions.about(finding)
        told = [change.weights for change in questions.changes(question.changes)]
        both = [Change(_times(one, self._weights(state))) for one in told for state in states]
        weight = np.vstack(
            [self.weigher.weigh(both).reshape(len(told), len(states)), self.ask(states)]
        )
        return question.adds @ weight

    def _weights(self, state: State) -> dict[int, tuple[float, float]]:
        node_of = self.compiled.node_of
        return {node_of(fault): (0.0, 1.0) if there else (1.0, 0.0) for fault, there in state}


def _times(
    one: Mapping[int, tuple[float, float]], other: Mapping[int, tuple[float, float]]
) -> dict[int, tuple[float, float]]:
    """Return the product of two sets of weights."""
    nothing = (1.0, 1.0)
    return {
        node: (
            one.get(node, nothing)[0] * other.get(node, nothing)[0],
            one.get(node, nothing)[1] * other.get(node, nothing)[1],
        )
        for node in {**one, **other}
    }
