"""How the gauge of a check mixes its levels up.

In: a check, the traits that decide its limits. Out: the chance that each level is reported where
another is true, averaged over limits that depend on an unsettled trait.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge.levels import edges_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures.uncertainty import gauge_uncertainty, reported_given_level
from tailblock.measures.units import parse
from tailblock.network.arrays import frozen

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure
    from tailblock.network.arrays import FloatArray


def reported(check: Check, traits: Mapping[str, str], checklist: Checklist) -> FloatArray | None:
    """Return K, rows true levels, columns reported ones; None if the answer is the level itself.

    Levels run from the lowest outcome to the highest. One reading with the check's own gauge is
    assumed.
    """
    if check.measure is None:
        return None
    u = _uncertainty(check.measure)
    tables = [
        limits.weight
        * np.array(reported_given_level(edges_of(limits.limits, check.measure).values, u))
        for limits in limits_for(check, traits, checklist)
    ]
    return frozen(np.sum(tables, axis=0))


def reported_by_check(
    checklist: Checklist, traits: Mapping[str, str], checks: Iterable[str]
) -> Mapping[str, FloatArray]:
    """Return K for each measured check among the given ones."""
    known = tuple(sorted(traits.items()))
    tables = ((id_, _reported(checklist, known, id_)) for id_ in checks)
    return {id_: table for id_, table in tables if table is not None}


# As many as a few checklists have checks: the same are asked for after every reading.
@lru_cache(maxsize=2048)
def _reported(
    checklist: Checklist, known: tuple[tuple[str, str], ...], check: str
) -> FloatArray | None:
    return reported(checklist.checks[check], dict(known), checklist)


def _uncertainty(measure: Measure) -> float:
    resolution, repeatability = (
        parse(text, measure.quantity, measure.unit, difference=True).quantity.value
        for text in (measure.gauge.resolution, measure.gauge.repeatability)
    )
    return gauge_uncertainty(resolution, repeatability)
