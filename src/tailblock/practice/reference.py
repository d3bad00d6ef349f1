"""What the advice makes of an instrument of a drill, to measure an apprentice against.

In: a case and an engine. Out: how far the advised order is from the truth after so many minutes,
and when it was as near as somebody else. It is followed no further than was asked.
"""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, NamedTuple

from tailblock.practice.drill import begun
from tailblock.practice.policies import advised, inspect

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.advice import CauseBelief
    from tailblock.practice.bench import Engine
    from tailblock.practice.cases import Case


class Reached(NamedTuple):
    """How far from the truth [bits] it is after so many minutes, and what it then believes.

    `check`: the last one done, empty at the start.
    """

    minutes: float
    missing: float
    check: str
    causes: tuple[CauseBelief, ...]


class Reference:
    """The advised order on an instrument, from the same complaint and setup."""

    def __init__(self, case: Case, engine: Engine) -> None:
        self._there = case.hidden.faults
        self._bench = begun(case, engine)
        self._known = [self._reached(0.0, "")]
        self._ahead = self._followed()

    def within(self, minutes: float) -> tuple[Reached, ...]:
        """Return the start, and every check that ends within so many minutes."""
        while self._known[-1].minutes <= minutes:
            following = next(self._ahead, None)
            if following is None:
                break
            self._known.append(following)
        return tuple(each for each in self._known if each.minutes <= minutes)

    def after(self, minutes: float) -> float:
        """Return how far from the truth it is after so many minutes [bits]."""
        return self.within(minutes)[-1].missing

    def as_near(self, bits: float, minutes: float) -> float | None:
        """Return the minutes after which it was as near, None if it was not within these."""
        near = (each.minutes for each in self.within(minutes) if each.missing <= bits)
        return next(near, None)

    def _followed(self) -> Iterator[Reached]:
        for chosen in inspect(self._bench, advised, inf):
            yield self._reached(self._bench.minutes, chosen.check)

    def _reached(self, minutes: float, check: str) -> Reached:
        known = self._bench.known
        return Reached(minutes, known.missing(self._there), check, known.causes)
