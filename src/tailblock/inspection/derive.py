"""Derived checks: computed from other readings of the visit once all of them are in.

In: the means of the measured checks on one visit, the instrument. Out: for every derived check
whose inputs are in, its value with the standard uncertainty that follows from theirs. A value that
is not possible, or that the formula does not hold for, is left out: its inputs then speak for
themselves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from tailblock.inspection.groups import Measured, allowed
from tailblock.knowledge.traits import applies
from tailblock.measures.limits import OutOfRange
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.inspection.record import Instrument, Visit
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, DerivedInput, Measure

Means = dict[str, tuple[Measured, ...]]


def derived(
    checklist: Checklist, instrument: Instrument, visit: Visit, means: Means
) -> dict[str, Measured]:
    """Return the derived values of a visit.

    Parameters
    ----------
    instrument
        Its traits decide which checks apply, its scale length may be an input.
    visit
        Its stage decides which checks are asked for.
    means
        Check -> means by setup, the one to be preferred first.

    Returns
    -------
    dict
        Derived check -> value, its `readings` all those that it rests on.
    """
    found: dict[str, Measured] = {}
    waiting = [
        check
        for check in checklist.checks.values()
        if check.derived is not None
        and (not check.stages or visit.stage in check.stages)
        and applies(check, instrument.traits, checklist)
    ]
    while True:  # a derived value may be the input of another
        known = means | {name: (value,) for name, value in found.items()}
        new = {
            check.id: value
            for check in waiting
            if check.id not in found and (value := _computed(check, instrument, known)) is not None
        }
        if not new:
            return found
        found |= new


def _computed(check: Check, instrument: Instrument, known: Means) -> Measured | None:
    """Return the value of one check if all its inputs are in and the result is possible."""
    values: dict[str, float] = {}
    u: dict[str, float] = {}
    used: list[Measured] = []
    for argument, taken in check.from_.items():
        if taken.given is not None:
            if instrument.scale_length is None:
                return None
            values[argument] = instrument.scale_length
            continue
        reading = _input(taken, known)
        if reading is None:
            return None
        values[argument], u[argument] = reading.value, reading.u
        used.append(reading)
    # the table of figures is long to import, and most visits compute nothing
    from tailblock.measures.figures import NoAnswer, evaluate  # noqa: PLC0415

    try:
        value, spread = evaluate(str(check.derived), values, u)
    except (OutOfRange, NoAnswer):
        return None
    if not _possible(cast("Measure", check.measure), value):
        return None
    return Measured(
        value,
        spread,
        tuple(sorted({index for reading in used for index in reading.readings})),
        {},
        tuple(dict.fromkeys(gate for reading in used for gate in reading.widened_by)),
    )


def _input(taken: DerivedInput, known: Mapping[str, tuple[Measured, ...]]) -> Measured | None:
    """Return the reading that an input asks for: in its setup, or the one to be preferred."""
    readings = known.get(taken.check or "", ())
    return next((r for r in readings if not r.setup or allowed(r.setup, taken.setup)), None)


def _possible(measure: Measure, value: float) -> bool:
    low, high = (
        None if end is None else parse(end, measure.quantity, measure.unit).quantity.value
        for end in (measure.possible.from_, measure.possible.to)
    )
    return (low is None or value >= low) and (high is None or value <= high)
