"""A measured value against its limits, as the coordinates of a small strip.

In: a `Gauge`. Out: a `Strip` in the units of its own little coordinate system; a renderer draws it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tailblock.report.model import Gauge

WIDTH = 150.0
MARGIN = 8.0  # room for the marker at either end


@dataclass(frozen=True, slots=True)
class Strip:
    """Where things lie from left to right, from 0 to `WIDTH`.

    `normal` is the band that counts as normal; `edges` the limits between levels; `whisker` the
    value less and plus its standard uncertainty.
    """

    value: float
    whisker: tuple[float, float]
    normal: tuple[float, float]
    edges: tuple[float, ...]


def strip(gauge: Gauge) -> Strip:
    """Return the strip of a gauge; the scale covers all limits, the value and its uncertainty."""
    low, high = gauge.value - gauge.uncertainty, gauge.value + gauge.uncertainty
    start = min(low, *gauge.edges)
    end = max(high, *gauge.edges)
    room = 0.12 * (end - start) or 1.0
    start, end = start - room, end + room

    def place(value: float) -> float:
        return round(MARGIN + (value - start) / (end - start) * (WIDTH - 2 * MARGIN), 1)

    below, above = gauge.normal
    return Strip(
        value=place(gauge.value),
        whisker=(place(low), place(high)),
        normal=(
            0.0 if below is None else place(below),
            WIDTH if above is None else place(above),
        ),
        edges=tuple(place(edge) for edge in gauge.edges),
    )
