"""What a gauge can show, what it shows of a true value, and the value in the middle of a level.

In: a measured check's `Measure`. Out: numbers in the base unit of its quantity.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures.uncertainty import closed_bands, gauge_uncertainty
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure


def read(measure: Measure, true: float, dice: np.random.Generator) -> float:
    """Return what a gauge shows of a true value, within what is possible."""
    resolution, repeatability = gauge(measure)
    moved = true + repeatability * float(dice.standard_normal())
    shown = round(moved / resolution) * resolution if resolution > 0.0 else moved
    least, most = possible(measure)
    return min(max(shown, least), most)


def gauge(measure: Measure) -> tuple[float, float]:
    """Return resolution and repeatability [base unit]."""
    resolution, repeatability = (
        parse(text, measure.quantity, measure.unit, difference=True).quantity.value
        for text in (measure.gauge.resolution, measure.gauge.repeatability)
    )
    return resolution, repeatability


def possible(measure: Measure) -> tuple[float, float]:
    """Return the least and the most that the quantity can be [base unit]."""
    low, high = (
        None if end is None else parse(end, measure.quantity, measure.unit).quantity.value
        for end in (measure.possible.from_, measure.possible.to)
    )
    return -np.inf if low is None else low, np.inf if high is None else high


def middle(check: Check, level: str, traits: Mapping[str, str], checklist: Checklist) -> float:
    """Return the value in the middle of a level of a measured check [base unit]."""
    assert check.measure is not None  # noqa: S101  only measured checks are asked for
    limits = max(limits_for(check, traits, checklist), key=lambda one: one.weight).limits
    edges = edges_of(limits, check.measure).values
    ends = closed_bands(edges, gauge_uncertainty(*gauge(check.measure)))
    least, most = possible(check.measure)
    place = levels_of(check).ids.index(level)
    low, high = (min(max(end, least), most) for end in ends[place : place + 2])
    return (low + high) / 2
