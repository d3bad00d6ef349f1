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

    from tailblock.practice.bench import Engine
    from tailblock.practice.cases import Case


class Reached(NamedTuple):
    """How far from the truth [bits] it is after so many minutes; `check`: the last one done."""

    minutes: float
    missing: float
    check: str = ""


class Reference:
    """The advised order on an instrument, from the same complaint and setup."""

    def __init__(self, case: Case, engine: Engine) -> None:
        self._there = case.hidden.faults
        self.bench = begun(case, engine)
        start = Reached(0.0, self.bench.known.missing(self._there))
        self._known: list[Reached] = [start]
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
        for chosen in inspect(self.bench, advised, inf):
            yield Reached(self.bench.minutes, self.bench.known.missing(self._there), chosen.check)
