"""How well each outcome of a check fits what was read.

In: a reading that speaks. Out: one number an outcome, in the order of `knowledge.levels` (the worst
low level first, then normal, then the high levels), with a maximum of 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures.uncertainty import NEGLIGIBLE, level_likelihoods

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.inspection.speaks import Spoken
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure


def likelihood(
    checklist: Checklist, traits: Mapping[str, str], spoken: Spoken
) -> tuple[float, ...]:
    """Return the likelihood of each outcome of a check.

    An answer in levels is sure: 1 at its level, else 0. A value gives for each level
    `Phi((upper - y)/u) - Phi((lower - y)/u)`; where a trait is unknown the limits may be several,
    and what each of them gives is mixed by its weight before it is scaled.

    Parameters
    ----------
    traits
        Trait -> value; they decide the limits.
    spoken
        A reading of `speaks.hear`.

    Returns
    -------
    tuple of floats in [0, 1], the largest 1, those below 1e-9 set to 0
    """
    check = checklist.checks[spoken.check]
    if spoken.level is not None:
        return tuple(float(level == spoken.level) for level in levels_of(check).ids)
    mixed = shares(checklist, traits, check, spoken.value or 0.0, spoken.u or 0.0)
    best = max(mixed)
    return tuple(x / best if x / best >= NEGLIGIBLE else 0.0 for x in mixed)


def shares(
    checklist: Checklist, traits: Mapping[str, str], check: Check, value: float, u: float
) -> list[float]:
    """Return the share of each level in where the true value may lie; they add up to 1.

    Parameters
    ----------
    check
        A measured check.
    value, u
        In the base unit of its quantity; with `u` 0 one level has it all for each set of limits.
    """
    measure = cast("Measure", check.measure)
    mixed = [0.0] * len(levels_of(check).ids)
    for weighted in limits_for(check, traits, checklist):
        edges = edges_of(weighted.limits, measure)
        scaled = level_likelihoods(edges.values, value, u, edges.sides)
        total = sum(scaled)  # unscaled they add up to 1
        mixed = [sum_ + weighted.weight * x / total for sum_, x in zip(mixed, scaled, strict=True)]
    return mixed
