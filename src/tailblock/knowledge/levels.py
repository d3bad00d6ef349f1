"""The ordered levels of a check, the limits between them, and the chances that belong to them.

In: a check. Out: its levels from the lowest outcome to the highest, the edges between them in base
units, and for each side the chances of at least each level, by itself (leak) or given a fault.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.knowledge.words import WORDS
from tailblock.measures import parse

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.knowledge.entries import Check, Limits, Measure, Shows
    from tailblock.measures.uncertainty import Side

NORMAL = "normal"  # the id of the middle level where there are two sides, or only a low one
_ABOVE: Side = "above"
_BELOW: Side = "below"
_LEAKS = (WORDS["seldom"], WORDS["rarely"], WORDS["very-rarely"])


class LimitMissing(TailblockError):
    """A level has no limit against the next one."""

    def __init__(self, level: str, wanted: str) -> None:
        self.level, self.wanted = level, wanted
        super().__init__(f"the level `{level}` has no limit: give it `{wanted}: ...`")


@dataclass(frozen=True, slots=True)
class Levels:
    """Level ids from the lowest outcome to the highest, and the index of the normal one."""

    ids: tuple[str, ...]
    normal: int

    @property
    def low(self) -> tuple[str, ...]:
        """Return the levels below normal, mildest first."""
        return self.ids[: self.normal][::-1]

    @property
    def high(self) -> tuple[str, ...]:
        """Return the levels above normal, mildest first."""
        return self.ids[self.normal + 1 :]

    def as_bad(self, level: str, first: str) -> bool:
        """Return whether a level is `first` or worse, on the same side of normal.

        Nothing but normal itself is as bad as normal: from there on there are two ways to be worse.
        """
        place, least = (self.ids.index(one) - self.normal for one in (level, first))
        return place == 0 if least == 0 else place >= least if least > 0 else place <= least


@dataclass(frozen=True, slots=True)
class Edges:
    """The limits between consecutive levels in the base unit, ascending.

    `sides` says for each edge to which band a value exactly on it belongs: always to the milder.
    """

    values: tuple[float, ...]
    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class Chances:
    """For each side the chance of at least its first level, at least its second, and so on."""

    low: tuple[float, ...]
    high: tuple[float, ...]


def levels_of(check: Check) -> Levels:
    """Return the levels of a check.

    A choice or a one-sided measurement that grows begins with its normal level; where there is a
    low side the middle is called `normal`.
    """
    if check.measure is None:
        return Levels(tuple(choice.level for choice in check.choices), 0)
    return levels_of_limits(check.measure)


def levels_of_limits(limits: Limits) -> Levels:
    """Return the levels that limits cut out of a scale."""
    if limits.levels:
        return Levels(tuple(level.level for level in limits.levels), 0)
    low = [level.level for level in reversed(limits.levels_low)]
    high = [level.level for level in limits.levels_high]
    return Levels((*low, NORMAL, *high), len(low))


def edges_of(limits: Limits, measure: Measure) -> Edges:
    """Return the limits between the levels in the base unit of the measure's quantity.

    Parameters
    ----------
    limits
        The limits, plain ones or those for some traits.
    measure
        The measure they belong to: its quantity, and its unit for bare numbers.

    Raises
    ------
    LimitMissing
        A level that is not the outermost one has no limit.
    UnitError
        A limit is no quantity of that kind.
    """
    low = [(level.level, level.down_to, "down_to") for level in limits.levels_low[:-1]]
    high = [(level.level, level.up_to, "up_to") for level in limits.levels_high[:-1]]
    if limits.levels:
        high = [(level.level, level.up_to, "up_to") for level in limits.levels[:-1]]
    if limits.normal and limits.levels_low:
        low = [(NORMAL, limits.normal.from_, "from"), *low]
    if limits.normal and limits.levels_high:
        high = [(NORMAL, limits.normal.to, "to"), *high]
    below = [_value(edge, measure) for edge in reversed(low)]
    above = [_value(edge, measure) for edge in high]
    up, down = [_ABOVE] * len(below), [_BELOW] * len(above)
    return Edges((*below, *above), (*up, *down))


def _value(edge: tuple[str, str | None, str], measure: Measure) -> float:
    level, text, wanted = edge
    if text is None:
        raise LimitMissing(level, wanted)
    return parse(text, measure.quantity, measure.unit).quantity.value


def leak(check: Check) -> Chances:
    """Return the chances of each level with no listed fault there.

    What `otherwise` leaves out is seldom, rarely, very-rarely and from there on halved; where it
    names a side's levels in part, a missing lower level takes the chance of the next higher one, a
    missing higher one its usual chance, at most half of the one below it.
    """
    levels = levels_of(check)
    return Chances(_leak(levels.low, check.otherwise), _leak(levels.high, check.otherwise))


def _leak(side: Sequence[str], otherwise: Mapping[str, float]) -> tuple[float, ...]:
    usual = [*_LEAKS, *(_LEAKS[-1] / 2**step for step in range(1, len(side)))][: len(side)]
    given = [otherwise.get(level) for level in side]
    if all(chance is None for chance in given):
        return tuple(usual)
    last = max(place for place, chance in enumerate(given) if chance is not None)
    known = _filled([otherwise.get(level) for level in side[: last + 1]])
    for chance in usual[last + 1 :]:
        known.append(min(chance, known[-1] / 2))
    return tuple(known)


def shown(check: Check, link: Shows) -> Chances:
    """Return the chances of each level given what the link names, and it alone.

    A missing lower level takes the chance of the next higher one; a missing higher one has chance
    0. `at_least` speaks of the only side that there is.
    """
    levels = levels_of(check)
    only_low = not levels.high
    low = {**(link.at_least if only_low else {}), **link.at_least_low}
    high = {**({} if only_low else link.at_least), **link.at_least_high}
    return Chances(
        tuple(_filled([low.get(level) for level in levels.low])),
        tuple(_filled([high.get(level) for level in levels.high])),
    )


def _filled(chances: Sequence[float | None]) -> list[float]:
    """Fill gaps from above: at least the second level is also at least the first."""
    filled: list[float] = []
    for chance in reversed(chances):
        filled.append(chance if chance is not None else (filled[-1] if filled else 0.0))
    return filled[::-1]
