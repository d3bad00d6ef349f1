"""The limits of a measurement ascend, lie within what is possible, and leave only the ends open.

Passes:

    checks:
      - id: gap-at-the-edge
        measure:
          levels: [{level: none, up_to: 0.5 mm}, {level: slight, up_to: 3 mm}, {level: open}]

Fails:

    checks:
      - id: gap-at-the-edge
        measure:
          levels: [{level: none, up_to: 3 mm}, {level: slight, up_to: 0.5 mm}, {level: open}]
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.knowledge.levels import LimitMissing, edges_of
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.measures import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Limits, Measure

_RULE = "limits"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each limit that is missing, out of order or out of reach."""
    for check in checklist.checks.values():
        if check.measure is None:
            continue
        spot = Spot("check", check.id, ("measure",))
        yield from _judge(checklist, spot, check.measure, check.measure)
        for i, special in enumerate(check.measure.limits_when):
            yield from _judge(checklist, spot.below("limits_when", i), special, check.measure)


def _judge(checklist: Checklist, spot: Spot, limits: Limits, measure: Measure) -> Iterator[Problem]:
    yield from _open_ends(checklist, spot, limits)
    try:
        edges = edges_of(limits, measure).values
        low, high = _possible(measure)
    except LimitMissing as error:
        yield found(checklist, _RULE, _level(spot, limits, error.level), str(error))
        return
    except UnitError:
        return  # the rule `units` says so
    spots = _edge_spots(spot, limits)
    for (below, _), (above, place) in pairwise(zip(edges, spots, strict=True)):
        if below >= above:
            message = f"the limits do not ascend: {above:g} comes after {below:g}"
            yield found(checklist, _RULE, place, message, "levels run from normal outward")
    for edge, place in zip(edges, spots, strict=True):
        if not low <= edge <= high:
            message = f"{edge:g} is outside what is possible, {low:g} to {high:g}"
            yield found(checklist, _RULE, place, message)


def _edge_spots(spot: Spot, limits: Limits) -> list[Spot]:
    """Return where the edges are written, in ascending order."""
    if limits.levels:
        return [spot.below("levels", i, "up_to") for i in range(len(limits.levels) - 1)]
    low = [spot.below("levels_low", i, "down_to") for i in range(len(limits.levels_low) - 1)]
    high = [spot.below("levels_high", i, "up_to") for i in range(len(limits.levels_high) - 1)]
    from_ = [spot.below("normal", "from")] if limits.levels_low else []
    to = [spot.below("normal", "to")] if limits.levels_high else []
    return [*reversed(low), *from_, *to, *high]


def _level(spot: Spot, limits: Limits, level: str) -> Spot:
    """Return where a level is written."""
    for name in ("levels", "levels_low", "levels_high"):
        for i, listed in enumerate(getattr(limits, name)):
            if listed.level == level:
                return spot.below(name, i)
    return spot.below("normal")


def _open_ends(checklist: Checklist, spot: Spot, limits: Limits) -> Iterator[Problem]:
    lists = (
        ("levels", [level.up_to for level in limits.levels], "up_to"),
        ("levels_low", [level.down_to for level in limits.levels_low], "down_to"),
        ("levels_high", [level.up_to for level in limits.levels_high], "up_to"),
    )
    for name, ends, field in lists:
        if ends and ends[-1] is not None:
            message, mend = "the last level is open", f"leave its `{field}` out"
            yield found(checklist, _RULE, spot.below(name, len(ends) - 1, field), message, mend)


def _possible(measure: Measure) -> tuple[float, float]:
    """Return what is possible in the base unit; an open end is endless."""
    ends = [measure.possible.from_, measure.possible.to]
    low, high = (
        parse(end, measure.quantity, measure.unit).quantity.value if end is not None else endless
        for end, endless in zip(ends, (float("-inf"), float("inf")), strict=True)
    )
    return low, high
