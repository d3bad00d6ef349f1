"""How probable it is that pieces of work are done, exactly.

In: the terms of each piece of work, and whom to ask. Out: probabilities. Whether a monotone rule
holds is written as a signed sum of products, each a partial state of the faults: what is common to
all terms stands before the rest, terms of one fault each hold unless all of them are absent, and
what is left is split by one fault at a time (Shannon's expansion). Their probabilities add up.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from functools import cache
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
    parts: list[tuple[int, int, State, int]] = []  # which state, which work, both together, sign
    told = cache(holds)  # what many states leave of a rule is the same
    for row, state in enumerate(seen):
        known = dict(state)
        for column, rule in enumerate(terms.values()):
            for part, sign in told(_given(rule, known)).items():
                parts.append((row, column, tuple(sorted((*state, *part))), sign))
    asked = list(dict.fromkeys([*seen, *(both for _, _, both, _ in parts)]))
    chance = dict(zip(asked, ask(asked).tolist() if asked else (), strict=True))
    joint = np.zeros((len(seen), len(terms)))
    for row, column, both, sign in parts:
        joint[row, column] += sign * chance[both]
    return np.array([chance[state] for state in seen]), joint


def holds(terms: Terms) -> Mapping[State, int]:
    """Return partial states whose signed sum is 1 where the rule holds, and 0 elsewhere.

    >>> holds(frozenset({frozenset("ab")}))
    {(('a', True), ('b', True)): 1}
    >>> holds(frozenset({frozenset("a"), frozenset("b")}))
    {(): 1, (('a', False), ('b', False)): -1}
    >>> holds(frozenset()), holds(frozenset({frozenset()}))
    ({}, {(): 1})
    """
    found: dict[State, int] = defaultdict(int)
    for state, sign in _holding(terms, ()):
        found[tuple(sorted(state))] += sign
    return {state: sign for state, sign in found.items() if sign}


def _holding(terms: Terms, before: State) -> Iterator[tuple[State, int]]:
    if frozenset() in terms:
        yield before, 1
        return
    if not terms:
        return
    common = frozenset[str]().union(*terms).intersection(*terms)
    if common:
        there = tuple((fault, True) for fault in common)
        yield from _holding(frozenset(term - common for term in terms), (*before, *there))
        return
    single = frozenset(term for term in terms if len(term) == 1)
    if single:
        absent = (*before, *((fault, False) for (fault,) in single))
        yield before, 1
        yield absent, -1
        alone = frozenset[str]().union(*single)
        yield from _holding(frozenset(t for t in terms if t.isdisjoint(alone)), absent)
        return
    count = Counter(fault for term in terms for fault in term)
    fault = min(count, key=lambda name: (-count[name], name))
    without = frozenset(term for term in terms if fault not in term)
    yield from _holding(without, (*before, (fault, False)))
    yield from _holding(_given(terms, {fault: True}), (*before, (fault, True)))


def _given(terms: Terms, known: Mapping[str, bool]) -> Terms:
    """Return what is left of a rule once some faults are known."""
    return frozenset(
        term.difference(known) for term in terms if all(known.get(fault, True) for fault in term)
    )


def _probabilities(rules: Sequence[Terms], ask: Ask) -> FloatArray:
    """Return the probability that each of some rules holds."""
    parts = {rule: holds(rule) for rule in dict.fromkeys(rules)}
    states = list(dict.fromkeys(state for some in parts.values() for state in some))
    chance = dict(zip(states, ask(states).tolist() if states else (), strict=True))
    return np.array(
        [sum(sign * chance[state] for state, sign in parts[rule].items()) for rule in rules]
    )
