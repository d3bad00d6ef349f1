"""What a gauge can show, and what it shows of a true value.

In: a measured check's `Measure`. Out: numbers in the base unit of its quantity.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.measures.units import parse

if TYPE_CHECKING:
    from tailblock.knowledge.entries import Measure


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
