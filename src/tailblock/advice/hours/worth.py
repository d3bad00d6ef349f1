"""What knowing more before a price is promised would leave of the spread of the hours.

In: the rules, the mean hours of each piece of work, the variance of the whole, whom to ask. Out:
`Worth`s. For anything X that may become known, the expected variance of the hours H is

    E[Var(H | X)] = Var(H) - Var(E[H | X])

(law of total variance), and E[H | X = x] is the sum over the pieces of work of P(done | x) times
their mean: exact for each answer x, as the gauge of the check would report it.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.hours.chances import Ask, State, done_given, holds
from tailblock.inference.outcomes import say

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice.hours.called import Terms
    from tailblock.advice.hours.jobs import Jobs
    from tailblock.inference.sampling import States
    from tailblock.network.arrays import FloatArray, Network

MOST_FAULTS = 5  # of a stop point: the 32 states of those about which least is known
_LEAST = 1e-12  # an answer that is less probable adds nothing


def told_by_finding(
    terms: Mapping[str, Terms],
    means: FloatArray,
    jobs: Jobs,
    finding: int,
    *,
    reported: FloatArray | None,
) -> float:
    """Return Var(E[H | X]) [h^2] of a finding that would be read next.

    Parameters
    ----------
    means
        The mean hours of each piece of work if it is done.
    reported
        K, the chance that the gauge reports a level (column) where another is true (row); None for
        a check whose answer is its level.
    """
    # the mean hours that each partial state stands for; their signed sum is E[H]
    worth: dict[State, float] = defaultdict(float)
    for rule, mean in zip(terms.values(), means.tolist(), strict=True):
        for state, sign in holds(rule).items():
            worth[state] += sign * mean
    both = jobs.say(finding, [*worth, ()])
    if reported is not None:
        both = reported.T @ both
    chance, hours = both[:, -1], np.array(list(worth.values()))
    possible = chance > _LEAST
    return _between(chance[possible], (both[possible, :-1] @ hours) / chance[possible])


def told_by_faults(
    terms: Mapping[str, Terms], means: FloatArray, ask: Ask, faults: Sequence[str]
) -> float:
    """Return Var(E[H | X]) [h^2], X being whether each of some faults is there.

    Of more than `MOST_FAULTS` faults those count whose chance is nearest to one half.
    """
    alone = ask([((fault, True),) for fault in faults]) if faults else np.zeros(0)
    nearest = np.argsort(np.abs(alone - 0.5), kind="stable")[:MOST_FAULTS]
    kept = [faults[at] for at in sorted(nearest)]
    states: list[State] = [
        tuple(zip(kept, there, strict=True)) for there in product((False, True), repeat=len(kept))
    ]
    chance, joint = done_given(terms, states, ask)
    possible = chance > _LEAST
    return _between(chance[possible], (joint[possible] @ means) / chance[possible])


def told_in_draws(
    expected: FloatArray,
    states: States,
    network: Network,
    findings: Sequence[int],
    generator: np.random.Generator,
) -> FloatArray:
    """Return about Var(E[H | X]) [h^2] of each of many findings, from draws: to choose among them.

    Parameters
    ----------
    expected
        The mean hours of each drawn job, its faults being known.
    states
        The joint states that were drawn, one a row.
    """
    said = say(network, findings, states, generator)
    told = np.zeros(len(findings))
    for column, k in enumerate(findings):
        levels = network.findings[k].outcomes
        count = np.bincount(said[:, column], minlength=levels)
        total = np.bincount(said[:, column], weights=expected, minlength=levels)
        seen = count > 0
        told[column] = _between(count[seen] / len(states), total[seen] / count[seen])
    return told


def _between(chance: FloatArray, expected: FloatArray) -> float:
    """Return the variance of an expectation over the answers."""
    share = chance / chance.sum()
    mean = float(share @ expected)
    return float(share @ (expected - mean) ** 2)
