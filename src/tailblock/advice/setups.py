"""The states an instrument can be in, and the shortest way from one to another.

In: the checklist's states and moves. Out: routes in minutes. Moves that are repair work are never
part of a route. A state of more tension than a ceiling can be shut off.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from heapq import heappop, heappush
from itertools import product
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition, Move, Setups

State = tuple[tuple[str, str], ...]  # (dimension, state) in the checklist's order


@dataclass(frozen=True, slots=True)
class Route:
    """The end of a shortest way and its attended minutes."""

    minutes: float
    end: Mapping[str, str]


class SetupMap:
    """All setups of a checklist as a graph with minutes on its edges."""

    def __init__(self, setups: Setups) -> None:
        self._setups = setups
        self._known: dict[tuple[State, int | None], Mapping[State, float]] = {}
        self._routes: dict[tuple[object, ...], Route | None] = {}
        self._ladder = {
            name: step for step, name in enumerate(setups.states.get(setups.tension, ()))
        }

    def tension(self, setup: Mapping[str, str]) -> int:
        """Return how far up the ladder of tension a setup stands, 0 for no load."""
        return self._ladder.get(setup.get(self._setups.tension, ""), 0)

    def at_pitch(self, setup: Mapping[str, str]) -> bool:
        """Return whether the instrument stands under its full load, or more."""
        pitch = self._ladder.get(self._setups.pitch)
        return pitch is not None and self.tension(setup) >= pitch

    def above(self, setup: Mapping[str, str]) -> tuple[Mapping[str, str], ...]:
        """Return the states of higher tension than the present one, from the lowest up."""
        present = self.tension(setup)
        return tuple(
            {self._setups.tension: name} for name, step in self._ladder.items() if step > present
        )

    def route(
        self, start: Mapping[str, str], wanted: Condition, ceiling: int | None = None
    ) -> Route | None:
        """Return the shortest way to a setup that satisfies a condition, without repair work.

        Parameters
        ----------
        start
            The present setup, every dimension given.
        wanted
            States allowed in each dimension; a dimension that is not named may be anything.
        ceiling
            The highest tension that a way may pass through (see `tension`), None for any.

        Returns
        -------
        Route or None
            None if no way leads there. Of equally short ways the first in the checklist's order.

        Source: E. W. Dijkstra, "A note on two problems in connexion with graphs", 1959. Written
        out here, since importing a graph library costs a fifth of a cold start.
        """
        state = self._state(start)
        asked = (state, tuple(wanted.items()), ceiling)
        if asked not in self._routes:  # many checks want the same
            self._routes[asked] = self._route(state, wanted, ceiling)
        return self._routes[asked]

    def _route(self, start: State, wanted: Condition, ceiling: int | None) -> Route | None:
        minutes = self._minutes(start, ceiling)
        ends = [state for state in self._states if state in minutes and satisfies(state, wanted)]
        if not ends:
            return None
        best = min(ends, key=lambda state: minutes[state])
        return Route(float(minutes[best]), MappingProxyType(dict(best)))

    def reach(self, start: Mapping[str, str], ceiling: int | None = None) -> tuple[Route, ...]:
        """Return the shortest way to every setup in reach, `start` included (see `route`)."""
        minutes = self._minutes(self._state(start), ceiling)
        return tuple(
            Route(float(minutes[state]), dict(state)) for state in self._states if state in minutes
        )

    @cached_property
    def _states(self) -> tuple[State, ...]:
        names = self._setups.states
        return tuple(tuple(zip(names, values, strict=True)) for values in product(*names.values()))

    def _minutes(self, start: State, ceiling: int | None) -> Mapping[State, float]:
        """Return the minutes to every state in reach, worked out once for each start."""
        if (start, ceiling) not in self._known:
            self._known[start, ceiling] = self._spread(start, ceiling)
        return self._known[start, ceiling]

    def _spread(self, start: State, ceiling: int | None) -> Mapping[State, float]:
        """Reach out from `start`, the nearest state first."""
        place = {state: at for at, state in enumerate(self._states)}
        minutes: dict[State, float] = {}
        ahead = [(0.0, place[start], start)] if start in place else []
        while ahead:
            so_far, _, state = heappop(ahead)
            if state in minutes or (ceiling is not None and self.tension(dict(state)) > ceiling):
                continue
            minutes[state] = so_far
            for move in self._setups.moves:
                if not move.work:
                    for end in _moved(state, move):
                        heappush(ahead, (so_far + move.minutes, place[end], end))
        return minutes

    def _state(self, setup: Mapping[str, str]) -> State:
        return tuple((name, setup.get(name, "")) for name in self._setups.states)


@lru_cache(maxsize=8)
def map_of(checklist: Checklist) -> SetupMap:
    """Return the setups of a checklist as a graph, the same each time: it remembers its ways."""
    return SetupMap(checklist.setups)


def satisfies(setup: State | Mapping[str, str], wanted: Condition) -> bool:
    """Return whether a setup is one of those that a condition allows."""
    states = dict(setup)
    return all(states.get(name) in values for name, values in wanted.items())


def _moved(state: State, move: Move) -> Iterator[State]:
    """Yield the state after a move, if the move can be made from here and goes anywhere."""
    states = dict(state)
    if all(states.get(name) == value for name, value in move.from_.items()):
        end = tuple((name, move.to.get(name, value)) for name, value in state)
        if end != state:
            yield end
