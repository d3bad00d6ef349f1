"""The limits of one measured check on one instrument, ready to lay a value against.

In: a check, the traits, the checklist. Out: a `Ruler`: names levels, says what is normal in both
systems of units, makes gauges.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures import gauge_uncertainty, level_likelihoods, parse
from tailblock.messages import N_, _
from tailblock.report.model import Gauge
from tailblock.report.wording import band, listed, shown, spread, words_of_level

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure
    from tailblock.knowledge.levels import Edges, Levels
    from tailblock.report.model import Zone

SEVERAL_LIMITS = N_(
    "the limits depend on something not known; those of the commoner kind are shown"
)


@dataclass(frozen=True, slots=True)
class Ruler:
    """The limits between the levels of a check in its base unit, and its gauge's uncertainty.

    `normal` is the band that counts as normal, an open end being None.
    """

    check: Check
    measure: Measure
    edges: Edges
    normal: tuple[float | None, float | None]
    gauge_u: float
    remarks: tuple[str, ...]

    @property
    def normal_level(self) -> str:
        """Return the id of the normal level."""
        levels = levels_of(self.check)
        return levels.ids[levels.normal]

    @property
    def normal_words(self) -> str:
        """Return the normal band in both systems of units."""
        low, high = (
            None if end is None else shown(end, self.measure.quantity) for end in self.normal
        )
        return band(low, high)

    def level(self, value: float) -> str:
        """Return the id of the level of a value; one on a limit takes the milder level."""
        bands = level_likelihoods(self.edges.values, value, 0.0, self.edges.sides)
        return levels_of(self.check).ids[bands.index(1.0)]

    def gauge(self, value: float, u: float) -> Gauge:
        """Return a value against the limits."""
        quantity = self.measure.quantity
        level = words_of_level(self.check, self.level(value))
        reading = f"{shown(value, quantity)} ± {spread(u, quantity)}"
        limits = tuple(shown(edge, quantity) for edge in self.edges.values)
        return Gauge(
            value=value,
            uncertainty=u,
            edges=self.edges.values,
            limits=limits,
            zones=zones(levels_of(self.check)),
            normal=self.normal,
            text=(
                _(
                    "{reading}; normal is {normal_words}; this is: {level}. "
                    "Limits between the levels: {limits}"
                ).format(
                    reading=reading,
                    normal_words=self.normal_words,
                    level=level,
                    limits=listed(limits),
                )
            ),
        )


def zones(levels: Levels) -> tuple[Zone, ...]:
    """Return for each level whether it is normal, to be watched, or outside.

    The first level off normal is to be watched where a worse one stands behind it.
    """
    return tuple(_zone(at, levels) for at in range(len(levels.ids)))


def _zone(at: int, levels: Levels) -> Zone:
    if at == levels.normal:
        return "normal"
    last = at in {0, len(levels.ids) - 1}
    return "watch" if abs(at - levels.normal) == 1 and not last else "outside"


def ruler(check: Check, measure: Measure, traits: Mapping[str, str], checklist: Checklist) -> Ruler:
    """Return the limits that hold for an instrument; if several may, the most probable ones."""
    weighted = limits_for(check, traits, checklist)
    edges = edges_of(max(weighted, key=lambda one: one.weight).limits, measure)
    normal = levels_of(check).normal
    resolution, repeatability = (
        parse(step, measure.quantity, measure.unit, difference=True).quantity.value
        for step in (measure.gauge.resolution, measure.gauge.repeatability)
    )
    return Ruler(
        check=check,
        measure=measure,
        edges=edges,
        normal=(
            edges.values[normal - 1] if normal > 0 else None,
            edges.values[normal] if normal < len(edges.values) else None,
        ),
        gauge_u=gauge_uncertainty(resolution, repeatability),
        remarks=(_(SEVERAL_LIMITS),) if len(weighted) > 1 else (),
    )
