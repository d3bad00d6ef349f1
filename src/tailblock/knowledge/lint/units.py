"""Every quantity can be read and is of the kind that is meant.

That is: the unit, limits, gauge and possible range of a measurement, what a gate adds to the
uncertainty of others, the minutes of a stage, times of looking again, and the constants of time.

Passes:

    checks:
      - id: gap-at-the-edge
        measure: {quantity: length, unit: mm, gauge: {resolution: 0.5 mm, repeatability: 0.5 mm}}

Fails:

    checks:
      - id: gap-at-the-edge
        measure: {quantity: length, unit: mm, gauge: {resolution: 0.5 deg, repeatability: 0.5 mm}}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found
from tailblock.measures import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Limits, Measure

_RULE = "units"
_Text = tuple[Spot, str | None, bool]  # where, what, and whether it is a difference


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each text that is no quantity of the kind that is wanted."""
    for check in checklist.checks.values():
        if check.measure is not None:
            yield from _measure(checklist, check, check.measure)
        yield from _gates(checklist, check)
    for spot, text in _times(checklist):
        if text is not None:
            yield from _read(checklist, spot, text, "time")


def _measure(checklist: Checklist, check: Check, measure: Measure) -> Iterator[Problem]:
    spot = Spot("check", check.id, ("measure",))
    unit = list(_read(checklist, spot.below("unit"), f"1 {measure.unit}", measure.quantity))
    if unit:  # nothing else can be read without it
        yield from unit
        return
    for place, text, is_step in _texts(measure, spot):
        if text is not None:
            yield from _read(
                checklist, place, text, measure.quantity, measure.unit, difference=is_step
            )


def _texts(measure: Measure, spot: Spot) -> Iterator[_Text]:
    """Yield the quantities of a measurement."""
    gauge = spot.below("gauge")
    yield gauge.below("resolution"), measure.gauge.resolution, True
    yield gauge.below("repeatability"), measure.gauge.repeatability, True
    yield spot.below("possible", "from"), measure.possible.from_, False
    yield spot.below("possible", "to"), measure.possible.to, False
    yield from _limits(measure, spot)
    for i, special in enumerate(measure.limits_when):
        yield from _limits(special, spot.below("limits_when", i))


def _limits(limits: Limits, spot: Spot) -> Iterator[_Text]:
    if limits.normal:
        yield spot.below("normal", "from"), limits.normal.from_, False
        yield spot.below("normal", "to"), limits.normal.to, False
    for i, level in enumerate(limits.levels):
        yield spot.below("levels", i, "up_to"), level.up_to, False
    for i, down in enumerate(limits.levels_low):
        yield spot.below("levels_low", i, "down_to"), down.down_to, False
    for i, level in enumerate(limits.levels_high):
        yield spot.below("levels_high", i, "up_to"), level.up_to, False


def _gates(checklist: Checklist, check: Check) -> Iterator[Problem]:
    """Judge what gates add to the uncertainty of the checks they are about."""
    for i, gate in enumerate(check.gate):
        if gate.then == "no-evidence":
            continue
        for named in gate.of:
            measure = checklist.checks[named].measure if named in checklist.checks else None
            spot = Spot("check", check.id, ("gate", i, "then", "widen"))
            if measure is None and named in checklist.checks:
                message = f"`{named}` is not measured: its uncertainty cannot be widened"
                yield found(checklist, _RULE, spot, message, "say `then: no-evidence`")
            elif measure and gate.then.widen:
                text = gate.then.widen
                yield from _read(
                    checklist, spot, text, measure.quantity, measure.unit, difference=True
                )


def _times(checklist: Checklist) -> Iterator[tuple[Spot, str | None]]:
    """Yield the times that something is reckoned with."""
    for stage in checklist.stages.values():
        yield Spot("stage", stage.id, ("budget",)), stage.budget
    for remedy in checklist.remedies.values():
        for i, watch in enumerate(remedy.watch):
            yield Spot("remedy", remedy.id, ("watch", i, "after")), watch.after
    spot, limits = Spot("checklist", checklist.id, ("limits",)), checklist.limits
    yield spot.below("climate_memory"), limits.climate_memory
    yield spot.below("fresh_after"), limits.fresh_after
    for pace, time in limits.onset_over.items():
        yield spot.below("onset_over", pace), time


def _read(
    checklist: Checklist,
    spot: Spot,
    text: str,
    dimension: str,
    unit: str | None = None,
    *,
    difference: bool = False,
) -> Iterator[Problem]:
    try:
        parse(text, dimension, unit, difference=difference)
    except UnitError as error:
        yield found(checklist, _RULE, spot, str(error))
