"""How probable it is that pieces of work are done, exactly.

In: the terms of each piece of work, and whom to ask. Out: probabilities. A monotone rule
fails in states that split into few partial ones which exclude each other (Shannon's expansion, one
fault at a time): their probabilities add up.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.advice.hours.called import Terms
    from tailblock.network.arrays import FloatArray

State = tuple[tuple[str, bool], ...]  # some faults and whether they are there


class Ask(Protocol):
    """Returns the probability of each of some partial states, given all readings."""

    def __call__(self, states: Sequence[State], /) -> FloatArray: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Chances:
    """How probable each piece of work is, and each two together.

    `work`: remedies. `done`: one number each. `both`: a square table; its diagonal is `done`.
    """

    work: tuple[str, ...]
    done: FloatArray
    both: FloatArray


def done(terms: Mapping[str, Terms], ask: Ask) -> FloatArray:
    """Return the probability of each piece of work."""
    return _probabilities(list(terms.values()), ask)


def chances(terms: Mapping[str, Terms], ask: Ask) -> Chances:
    """Return the probability of each piece of work and of each two.

    P(A and B) = P(A) + P(B) - P(A or B), and that A or B is done is a rule of the same kind.
    """
    work = tuple(terms)
    pairs = [(i, j) for i in range(len(work)) for j in range(i, len(work))]
    either = _probabilities([terms[work[i]] | terms[work[j]] for i, j in pairs], ask)
    at = dict(zip(pairs, either.tolist(), strict=True))
    alone = np.array([at[i, i] for i in range(len(work))])
    both = np.diag(alone)
    for i, j in pairs:
        both[i, j] = both[j, i] = alone[i] + alone[j] - at[i, j]
    return Chances(work, alone, both)


def done_given(
    terms: Mapping[str, Terms],
    seen: Sequence[State],
    ask: Ask,
) -> tuple[FloatArray, FloatArray]:
    """Return the probabilities of some states, and of each piece of work together with each.

    Parameters
    ----------
    seen
        Partial states of faults.

    Returns
    -------
    chance
        One number a state.
    joint
        States x pieces of work: P(state and done).
    """
    failing: list[tuple[int, int, State]] = []  # which state, which work, both together
    for column, rule in enumerate(terms.values()):
        for miss in misses(rule):
            for row, state in enumerate(seen):
                both = _joined(state, miss)
                if both is not None:
                    failing.append((row, column, both))
    asked = dict.fromkeys([*seen, *(state for _, _, state in failing)])
    known = dict(zip(asked, ask(list(asked)).tolist() if asked else (), strict=True))
    chance = np.array([known[state] for state in seen])
    joint = np.repeat(chance[:, None], len(terms), axis=1)
    for row, column, state in failing:
        joint[row, column] -= known[state]
    return chance, joint


def misses(terms: Terms) -> tuple[State, ...]:
    """Return partial states that exclude each other and in which the rule fails: all of these.

    >>> misses(frozenset({frozenset("a"), frozenset("b")}))
    ((('a', False), ('b', False)),)
    >>> misses(frozenset({frozenset("ab")}))
    ((('a', False),), (('a', True), ('b', False)))
    >>> misses(frozenset()), misses(frozenset({frozenset()}))
    (((),), ())
    """
    return tuple(_failing(terms))


def _failing(terms: Terms) -> Iterator[State]:
    if frozenset() in terms:
        return
    if not terms:
        yield ()
        return
    count = Counter(fault for term in terms for fault in term)
    fault = min(count, key=lambda name: (-count[name], name))
    without = frozenset(term for term in terms if fault not in term)
    for state in _failing(without):
        yield ((fault, False), *state)
    rest = frozenset(term - {fault} for term in terms)
    for state in _failing(rest):
        yield ((fault, True), *state)


def _probabilities(rules: Sequence[Terms], ask: Ask) -> FloatArray:
    """Return the probability that each of some rules holds."""
    failing = {rule: misses(rule) for rule in dict.fromkeys(rules)}
    states = list(dict.fromkeys(state for some in failing.values() for state in some))
    chance = dict(zip(states, ask(states).tolist() if states else (), strict=True))
    return np.array([1.0 - sum(chance[state] for state in failing[rule]) for rule in rules])


def _joined(state: State, miss: State) -> State | None:
    """Return two partial states as one, or None if they contradict each other."""
    known = dict(state)
    if any(known.get(fault, there) != there for fault, there in miss):
        return None
    return tuple(sorted({**known, **dict(miss)}.items()))
