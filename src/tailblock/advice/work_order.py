"""The order of work: what needs what, what is done inside what, causes first.

In: the checklist, the remedies of a plan, which of them cure the causes of others, and a measure
for what comes first among equals. Out: ids in working order; and what must be opened for a remedy.
"""

from __future__ import annotations

from graphlib import TopologicalSorter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Remedy

State = tuple[str, str]  # a dimension of the setup and its state


def access(checklist: Checklist, remedy: Remedy) -> dict[State, float]:
    """Return the states that repair work must bring about first, with the minutes of each.

    Strings come off in minutes for almost all work: they are no access worth sharing.
    """
    found = {}
    for dimension, allowed in remedy.needs.setup.items():
        usual = checklist.setups.states.get(dimension, ("",))[0]
        if dimension == checklist.setups.tension or usual in allowed:
            continue
        for move in checklist.setups.moves:
            state = move.to.get(dimension)
            if move.work and state in allowed:
                found[dimension, str(state)] = move.minutes
                break
    return found


def working_order(
    checklist: Checklist,
    remedies: Mapping[str, Remedy],
    causes: Mapping[str, Collection[str]],
    place: Callable[[str], tuple[int, int, bool, int]],
) -> Iterator[str]:
    """Yield the remedies, each after what it needs, what is done inside, what cures its cause.

    Of the last two those give way that would lead in a circle.

    Parameters
    ----------
    causes
        Remedy -> those among the others that cure what brings about its faults.
    place
        Where a remedy stands among those that could be done next, the first with the least.
    """
    opening = {
        state: id_
        for id_, remedy in reversed(list(remedies.items()))
        for state in remedy.opens.items()
    }
    before: dict[str, set[str]] = {
        id_: {n for n in remedy.needs.remedies if n in remedies} for id_, remedy in remedies.items()
    }
    for id_, remedy in remedies.items():
        for first in causes[id_]:
            if first != id_ and id_ not in _behind(first, before):
                before[id_].add(first)
        # what opens a state shuts it again at its end: what is done inside comes before that
        for state in access(checklist, remedy):
            around = opening.get(state, id_)
            if around != id_ and around not in _behind(id_, before):
                before[around].add(id_)
    sorter = TopologicalSorter(before)
    sorter.prepare()
    ready: list[str] = []
    while sorter.is_active():
        ready += sorter.get_ready()
        nearest = min(ready, key=place)
        ready.remove(nearest)
        sorter.done(nearest)
        yield nearest


def _behind(id_: str, before: Mapping[str, Collection[str]]) -> set[str]:
    """Return all that comes before a remedy, and itself."""
    gone: set[str] = set()
    left = [id_]
    while left:
        one = left.pop()
        if one not in gone:
            gone.add(one)
            left += before[one]
    return gone
