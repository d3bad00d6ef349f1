"""Two visits of one instrument side by side: what improved, what got worse, what is still outside.

In: the checklist, the record with what was heard of each visit. Out: `Pair`s of readings of one
check in one setup, and whether the air allows to compare them. A change within twice its standard
uncertainty is none.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Literal

from tailblock.inspection.groups import graded, measured
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures import OutOfRange, level_likelihoods, parse, propagate
from tailblock.measures.rows.arguments import ASSUMED
from tailblock.measures.settling import action_forecast
from tailblock.measures.trend import COVERAGE

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.inspection.groups import Measured
    from tailblock.inspection.record import Inspection, Setup, Visit
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.knowledge.levels import Edges

Way = Literal["better", "worse", "same"]
ACTIONS = ("action-bass", "action-treble")  # lengths that rise while an instrument settles


@dataclass(frozen=True, slots=True)
class Value:
    """A reading: its level, and for a measurement value and standard uncertainty [base unit]."""

    level: str
    value: float | None = None
    u: float | None = None


@dataclass(frozen=True, slots=True)
class Expected:
    """The change that settling alone makes [mm], and whether it explains the one that was seen."""

    change: float
    u: float
    explains: bool


@dataclass(frozen=True, slots=True)
class Pair:
    """One check in one setup on both visits.

    `change` and `u` are those of a measurement [base unit], None for an answer in words. `outside`:
    the later reading is not normal. `settling`: what settling makes of it, None if it has no say.
    """

    check: str
    setup: Setup
    before: Value
    after: Value
    way: Way
    outside: bool
    change: float | None = None
    u: float | None = None
    settling: Expected | None = None


@dataclass(frozen=True, slots=True)
class Air:
    """The relative humidity of both visits [%], None if nobody wrote it down."""

    before: float | None
    after: float | None
    alike: bool | None


@dataclass(frozen=True, slots=True)
class Readings:
    """Two visits by their readings.

    `apart`: checks that were read on both, and in no setup that is the same; `silent`: those that a
    gate keeps from counting on one of them.
    """

    pairs: tuple[Pair, ...]
    apart: tuple[str, ...]
    silent: tuple[str, ...]
    air: Air


def compare(
    checklist: Checklist, inspection: Inspection, heard: Sequence[Heard], before: int, after: int
) -> Readings:
    """Return the readings of two visits side by side, in the order of the checklist.

    Parameters
    ----------
    before, after
        Indexes of the visits, the earlier one first.
    """
    first, last = inspection.visits[before], inspection.visits[after]
    traits = inspection.instrument.traits
    silent = heard[before].gated | heard[after].gated
    sides = [_Side(checklist, visit) for visit in (first, last)]
    both = [check for check in checklist.checks if all(side.has(check) for side in sides)]
    settling = _settles(inspection, before, after)
    actions = {checklist.geometry[x].check for x in ACTIONS if x in checklist.geometry}
    pairs, apart = [], []
    for name in (name for name in both if name not in silent):
        found = list(_pairs(checklist, traits, checklist.checks[name], sides))
        if settling and name in actions:
            days = (last.day - first.day).days
            found = [_with_settling(pair, 24.0 * days) for pair in found]
        pairs += found
        apart += [] if found else [name]
    return Readings(
        pairs=tuple(pairs),
        apart=tuple(apart),
        silent=tuple(name for name in both if name in silent),
        air=_air(first, last, checklist.limits.same_air),
    )


def comparable(inspection: Inspection, after: int) -> int | None:
    """Return the last visit before one that has a check in common with it, None without such."""
    read = {reading.check for reading in inspection.visits[after].readings}
    for place in range(after - 1, -1, -1):
        if read & {reading.check for reading in inspection.visits[place].readings}:
            return place
    return None


def limits_of(checklist: Checklist, traits: Mapping[str, str], check: Check) -> Edges | None:
    """Return the limits of a measurement on this instrument, the likeliest if several may hold."""
    if check.measure is None:
        return None
    likeliest = max(limits_for(check, traits, checklist), key=lambda one: one.weight)
    return edges_of(likeliest.limits, check.measure)


class _Side:
    """The readings of one visit by check."""

    def __init__(self, checklist: Checklist, visit: Visit) -> None:
        self.means = measured(checklist, visit)
        self.answers = graded(visit)

    def has(self, check: str) -> bool:
        return check in self.means or check in self.answers


def _pairs(
    checklist: Checklist, traits: Mapping[str, str], check: Check, sides: Sequence[_Side]
) -> Iterator[Pair]:
    before, after = sides
    for old in before.means.get(check.id, ()):
        for new in after.means.get(check.id, ()):
            edges = limits_of(checklist, traits, check)
            if new.setup == old.setup and edges is not None:
                yield _measured(check, edges, old, new)
    if check.id in before.answers and check.id in after.answers:
        for new_answer in reversed(after.answers[check.id]):
            old_levels = [a.level for a in before.answers[check.id] if a.setup == new_answer.setup]
            if old_levels:
                yield _graded(check, old_levels[-1], new_answer.level, new_answer.setup)
                return


def _measured(check: Check, edges: Edges, old: Measured, new: Measured) -> Pair:
    levels = levels_of(check)
    normal = levels.ids[levels.normal]
    levels_then_now = [
        levels.ids[level_likelihoods(edges.values, one.value, 0.0, edges.sides).index(1.0)]
        for one in (old, new)
    ]
    change, u = new.value - old.value, hypot(old.u, new.u)
    closer = _away(edges, levels.normal, old.value) - _away(edges, levels.normal, new.value)
    way: Way = "same"
    if abs(change) > COVERAGE * u and closer:
        way = "better" if closer > 0 else "worse"
    return Pair(
        check=check.id,
        setup=new.setup,
        before=Value(levels_then_now[0], old.value, old.u),
        after=Value(levels_then_now[1], new.value, new.u),
        way=way,
        outside=levels_then_now[1] != normal,
        change=change,
        u=u,
    )


def _away(edges: Edges, normal: int, value: float) -> float:
    """Return how far a value lies outside the normal band."""
    low = edges.values[normal - 1] - value if normal > 0 else 0.0
    high = value - edges.values[normal] if normal < len(edges.values) else 0.0
    return max(low, high, 0.0)


def _graded(check: Check, old: str, new: str, setup: Setup) -> Pair:
    ids = levels_of(check).ids
    moved = ids.index(new) - ids.index(old)
    way: Way = "same" if not moved else "worse" if moved > 0 else "better"
    return Pair(check.id, setup, Value(old), Value(new), way, outside=new != ids[0])


def _settles(inspection: Inspection, before: int, after: int) -> bool:
    """Return whether nothing but time under strings lies between two visits."""
    worked = any(visit.work for visit in inspection.visits[before + 1 : after + 1])
    return inspection.visits[before].stage == "first-stringing" and not worked


def _with_settling(pair: Pair, hours: float) -> Pair:
    """Add what settling makes of a pair; the first reading counts as taken when it was strung."""
    if pair.change is None or pair.u is None:
        return pair

    def rise(settling_rise: float, settling_time: float) -> float:
        return action_forecast(0.0, 0.0, hours, settling_rise, settling_time)

    assumed = {name: ASSUMED[name] for name in ("settling_rise", "settling_time")}
    values = {name: value for name, (value, _) in assumed.items()}
    try:
        change, u = propagate(rise, values, {name: one for name, (_, one) in assumed.items()})
    except OutOfRange:
        return pair
    explains = abs(pair.change - change) <= COVERAGE * hypot(u, pair.u)
    return Pair(
        pair.check, pair.setup, pair.before, pair.after, pair.way, pair.outside, pair.change,
        pair.u, Expected(change, u, explains),
    )  # fmt: skip


def _air(first: Visit, last: Visit, same: float) -> Air:
    values = [
        parse(visit.climate["humidity"], "percent", "%").quantity.value
        if "humidity" in visit.climate
        else None
        for visit in (first, last)
    ]
    before, after = values
    alike = None if before is None or after is None else abs(after - before) <= same
    return Air(before, after, alike)
