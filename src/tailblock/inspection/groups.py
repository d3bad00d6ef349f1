"""Readings of one visit put together by check and setup, before anything decides who speaks.

In: a checklist and a visit. Out: for measured checks the mean of each setup with its standard
uncertainty, for graded ones the answers in their order. Readings that were taken back, and answers
that are `unknown`, are not among them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from tailblock.measures.uncertainty import gauge_uncertainty
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.record import Reading, Setup, Visit
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition, Measure, Setups


@dataclass(frozen=True, slots=True)
class Measured:
    """A value in the base unit of its check, with the readings that it is made of.

    `setup` is empty for a derived value, which may be made of readings in several setups;
    `widened_by` holds the gates that added to `u`.
    """

    value: float
    u: float
    readings: tuple[int, ...]
    setup: Setup
    widened_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Graded:
    """One answer of a check with choices."""

    level: str
    reading: int
    setup: Setup


def counting(visit: Visit) -> Iterator[tuple[int, Reading]]:
    """Yield the readings that say something, with their index in the visit."""
    for index, reading in enumerate(visit.readings):
        if not reading.retracted and not reading.answer.unknown:
            yield index, reading


def graded(visit: Visit) -> dict[str, tuple[Graded, ...]]:
    """Return for each check with choices its answers in their order; the last one counts."""
    found: dict[str, tuple[Graded, ...]] = {}
    for index, reading in counting(visit):
        if reading.answer.level is not None:
            answer = Graded(reading.answer.level, index, reading.setup)
            found[reading.check] = (*found.get(reading.check, ()), answer)
    return found


def measured(checklist: Checklist, visit: Visit) -> dict[str, tuple[Measured, ...]]:
    """Return for each measured check its mean in each setup, the one under most load first.

    Values of one check in one setup on one visit are averaged, and
    `u^2 = resolution^2/12 + repeatability^2/n` (see `measures.uncertainty`).
    """
    values: dict[str, dict[tuple[tuple[str, str], ...], list[tuple[int, float]]]] = {}
    for index, reading in counting(visit):
        if reading.answer.value is not None:
            setup = tuple(sorted(reading.setup.items()))
            alike = values.setdefault(reading.check, {}).setdefault(setup, [])
            alike.append((index, reading.answer.value))
    return {
        check: by_load(
            checklist.setups,
            (
                _mean(cast("Measure", checklist.checks[check].measure), dict(setup), alike)
                for setup, alike in setups.items()
            ),
        )
        for check, setups in values.items()
    }


def _mean(measure: Measure, setup: Setup, alike: list[tuple[int, float]]) -> Measured:
    resolution, repeatability = (
        parse(step, measure.quantity, measure.unit, difference=True).quantity.value
        for step in (measure.gauge.resolution, measure.gauge.repeatability)
    )
    values = sorted(value for _, value in alike)  # a sum in one order, whatever the readings'
    u = gauge_uncertainty(resolution, repeatability, len(values))
    readings = tuple(sorted(index for index, _ in alike))
    return Measured(sum(values) / len(values), u, readings, setup)


def by_load(setups: Setups, found: Iterator[Measured]) -> tuple[Measured, ...]:
    """Sort by setup: the most tension first, then the earlier state of every other dimension.

    Limits are written for an instrument under its load, so of one check in two setups the reading
    nearest to that speaks, whichever was taken first.
    """

    def rank(one: Measured) -> tuple[int, ...]:
        others = (d for d in setups.states if d != setups.tension)
        return (
            -_state(setups.states, one.setup, setups.tension),
            *(_state(setups.states, one.setup, dimension) for dimension in others),
        )

    return tuple(sorted(found, key=rank))


def _state(states: Mapping[str, tuple[str, ...]], setup: Setup, dimension: str) -> int:
    return states[dimension].index(setup[dimension]) if dimension in states else 0


def allowed(setup: Setup, condition: Condition) -> bool:
    """Return whether a setup is one that a condition allows."""
    return all(setup.get(dimension) in wanted for dimension, wanted in condition.items())
