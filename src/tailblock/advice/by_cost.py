"""The order of decisive tests or repairs when exactly one of several faults is there.

In: for each fault its probability and what its test (or its repair) costs, in any one unit. Out:
the order of least expected cost, and that cost. Each test settles its own fault for certain; one
stops when the fault is found, or mended.

The order is by probability over cost, the largest first: the ratio rule of J. B. Kadane and
H. A. Simon, "Optimal strategies for a class of constrained sequential problems", Annals of
Statistics 5, 1977 (citation partly from memory), used for diagnosis by J. Kalagnanam and
M. Henrion, "A comparison of decision analysis and expert rules for sequential diagnosis", UAI 1988
(arXiv 1304.2362; the rule was read). With several faults at once, tests that depend on each other
or work that must be opened up first it is only a rule of thumb.

`next` goes by gain a minute instead, since its checks settle nothing for certain and many faults
may be there at once: see `docs/how-the-numbers-work.md`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence


class NoCost(TailblockError):
    """A test has a probability outside 0 to 1, or a cost that is not above 0."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name}: a probability from 0 to 1 and a cost above 0 are needed")


@dataclass(frozen=True, slots=True)
class Decisive:
    """A test or repair that settles one fault for certain.

    `probability` that this fault is the one, `cost` in minutes or money.
    """

    name: str
    probability: float
    cost: float

    def __post_init__(self) -> None:
        """Refuse what no order can be made of.

        Raises
        ------
        NoCost
            The probability is not within 0 to 1, or the cost not above 0.
        """
        if not (0.0 <= self.probability <= 1.0 and self.cost > 0.0):
            raise NoCost(self.name)

    @property
    def ratio(self) -> float:
        """Return the probability for each unit of cost."""
        return self.probability / self.cost


def by_cost(tests: Sequence[Decisive]) -> tuple[Decisive, ...]:
    """Return the tests by probability over cost, the largest first; equals keep their order.

    >>> tests = Decisive("a", 0.2, 1), Decisive("b", 0.5, 10), Decisive("c", 0.3, 3)
    >>> [test.name for test in by_cost(tests)]  # not the most probable first
    ['a', 'c', 'b']
    """
    return tuple(sorted(tests, key=lambda test: -test.ratio))


def expected_cost(ordered: Sequence[Decisive]) -> float:
    """Return the expected cost of doing tests in this order until the fault is found.

    `sum over i of cost_i x (1 - sum over j before i of probability_j)`: a test is paid for unless
    one before it has found the fault. If the probabilities do not add up to 1, the rest is a fault
    that none of them finds.

    >>> expected_cost([Decisive("a", 0.25, 1), Decisive("c", 0.25, 4), Decisive("b", 0.5, 10)])
    9.0
    """
    total, still_open = 0.0, 1.0
    for test in ordered:
        total += test.cost * still_open
        still_open -= test.probability
    return total
