"""Which checks go together: read in one setup, so that the change to it is paid for once.

In: looks with what they are worth, the setups, where the instrument stands. Out: the looks in the
order in which to take them, each with the gain per minute of the bundle that it came in. Greedy:
from the present setup, for every setup in reach at d minutes, the looks allowed there by gain per
minute, and of these the first n for which

    (sum of their bits) / (d + sum of their minutes)

is largest; the best setup and n go first, and the rest follows from there. A bundle holds one look
at a symptom, since a second one tells less after the first, and one member of a family.

No list made beforehand can be the best for every answer: after each reading it is made anew.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.candidates import walk
from tailblock.advice.setups import satisfies

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate, Way
    from tailblock.advice.setups import Route, SetupMap


@dataclass(frozen=True, slots=True)
class Look:
    """Something that could be read.

    `bits`: what it is worth [weighted bits]; for a gate also what it opens the way to. `after`: the
    candidates (by what they tell) that come before it if they are still to be read. `family`: that
    of which one member is enough, None for no such. `symptoms`: those that it looks at.
    """

    candidate: Candidate
    bits: float
    after: frozenset[str] = frozenset()
    family: str | None = None
    symptoms: frozenset[str] = frozenset()

    @property
    def rate(self) -> float:
        """Return the bits for each minute of its own, without any change of setup."""
        return self.bits / self.candidate.minutes

    def allowed(self, setup: Mapping[str, str]) -> bool:
        """Return whether all of it can be read in one setup."""
        return all(satisfies(setup, need.setup) for need in self.candidate.needs)


@dataclass(frozen=True, slots=True)
class Bundle:
    """Looks to take one after the other at the end of one way.

    `minutes` includes the way's; `rate` is bits for each of these minutes.
    """

    looks: tuple[Look, ...]
    minutes: float
    rate: float
    end: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Ways:
    """From one setup: to each other with what is left there, and along each look that travels."""

    to_setups: Sequence[tuple[Route, list[Look]]]
    travelling: Sequence[tuple[Look, Way]]


class Bundler:
    """The looks that are left, and where the instrument stands."""

    def __init__(
        self, looks: Sequence[Look], ways: SetupMap, start: Mapping[str, str], *, held: bool
    ) -> None:
        """Begin at `start`; `held`: never to more tension than there is at any moment."""
        self._map, self._here, self._held = ways, start, held
        self._file_order = {look.candidate.tells: place for place, look in enumerate(looks)}
        ordered = sorted(looks, key=lambda look: (-look.rate, look.candidate.minutes))
        self._left = {look.candidate.tells: look for look in ordered}
        self._alike = _alike(ordered)
        # of each setup: what is left to be read there, worst first
        self._in_setup = {
            _key(route.end): [look for look in reversed(ordered) if look.allowed(route.end)]
            for route in ways.reach(start, self._ceiling)
        }
        at_one_place = {look.candidate.tells for there in self._in_setup.values() for look in there}
        self._travelling = [look for look in ordered if look.candidate.tells not in at_one_place]
        self._ways_from: dict[tuple[str, ...], _Ways] = {}

    def bundles(self) -> Iterator[Bundle]:
        """Yield bundles until nothing is left that can be reached."""
        while self._left:
            best = self._best(waiting=True) or self._best(waiting=False)
            if best is None:
                return
            self._here = best.end
            families = {look.family for look in best.looks} - {None}
            taken = {look.candidate.tells for look in best.looks}
            for tells, look in tuple(self._left.items()):
                if tells in taken or look.family in families:
                    del self._left[tells]
            yield best

    @property
    def _ceiling(self) -> int | None:
        return self._map.tension(self._here) if self._held else None

    def _best(self, *, waiting: bool) -> Bundle | None:
        """Return the best bundle from here; without `waiting` looks need not wait for others."""
        ways = self._ways()
        found = [
            bundle
            for route, there in ways.to_setups
            if (bundle := self._fill(there, route.minutes, route.end, waiting=waiting))
        ]
        for look, way in ways.travelling:
            if look.candidate.tells in self._left and not (waiting and self._waits(look, ())):
                minutes = way.minutes + look.candidate.minutes
                found.append(Bundle((look,), minutes, look.bits / minutes, way.end))
        return min(found, key=self._rank, default=None)

    def _ways(self) -> _Ways:
        """Return the ways from here, found once for each setup."""
        key = _key(self._here)
        if key not in self._ways_from:
            routes = self._map.reach(self._here, self._ceiling)
            walks = (
                (look, walk(self._map, self._here, look.candidate.needs, self._ceiling))
                for look in self._travelling
            )
            self._ways_from[key] = _Ways(
                [(route, self._in_setup[_key(route.end)]) for route in routes],
                [(look, way) for look, way in walks if way is not None],
            )
        return self._ways_from[key]

    def _rank(self, bundle: Bundle) -> tuple[float, float, int]:
        """Put the best first; equals by their minutes, then as the checklist has them."""
        first = min(self._file_order[look.candidate.tells] for look in bundle.looks)
        return -bundle.rate, bundle.minutes, first

    def _fill(
        self, there: list[Look], way: float, end: Mapping[str, str], *, waiting: bool
    ) -> Bundle | None:
        """Return the prefix of the looks in one setup that brings most bits a minute.

        `there` are these looks, worst first; what is gone already is taken off its end.
        """
        while there and there[-1].candidate.tells not in self._left:
            there.pop()
        chosen: list[Look] = []
        done: set[str] = set()
        spent: set[str] = set()  # chosen, or alike to a chosen one

        def open_() -> Iterator[Look]:
            for look in reversed(there):
                tells = look.candidate.tells
                if tells in self._left and tells not in spent:
                    yield look

        bits, minutes = 0.0, way
        best = None
        while left := next(open_(), None):
            # no look worth less a minute than the bundle so far can raise it: the rest is no better
            if best is not None and left.rate <= best.rate:
                break
            free = (look for look in open_() if not (waiting and self._waits(look, done)))
            look = next(free, None)
            if look is None:
                break
            tells = look.candidate.tells
            chosen.append(look)
            done.add(tells)
            bits, minutes = bits + look.bits, minutes + look.candidate.minutes
            if best is None or bits / minutes > best.rate:
                best = Bundle(tuple(chosen), minutes, bits / minutes, end)
            spent |= self._alike[tells]
        return best

    def _waits(self, look: Look, done: Collection[str]) -> bool:
        return any(tells in self._left and tells not in done for tells in look.after)


def _alike(looks: Sequence[Look]) -> dict[str, frozenset[str]]:
    """Return for each look those of its family or at its symptoms, itself included."""
    together: dict[tuple[str, str], set[str]] = defaultdict(set)
    places = {
        look.candidate.tells: [
            *(("symptom", symptom) for symptom in look.symptoms),
            *((("family", look.family),) if look.family is not None else ()),
        ]
        for look in looks
    }
    for tells, where in places.items():
        for place in where:
            together[place].add(tells)
    return {
        tells: frozenset({tells}.union(*(together[place] for place in where)))
        for tells, where in places.items()
    }


def _key(setup: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(setup.values())
