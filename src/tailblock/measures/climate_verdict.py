"""Whether the climate alone explains that a reading has changed.

In: the change of a reading and the rise to be expected for each % of moisture [mm], temperatures
[degree Celsius], relative humidities [%], with their standard uncertainties. Out: a
`ClimateVerdict`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from tailblock.measures.climate import season_change, unexplained_change
from tailblock.measures.limits import within
from tailblock.measures.uncertainty import propagate

COVERAGE = 2.0  # standard uncertainties within which a difference counts as none (about 95 %)


@dataclass(frozen=True, slots=True)
class ClimateVerdict:
    """What the climate makes of a change, and what is left of it [mm], with their u."""

    expected: float
    u_expected: float
    unexplained: float
    u_unexplained: float

    @property
    def explained(self) -> bool:
        """Return whether what is left lies within its own uncertainty."""
        return abs(self.unexplained) <= COVERAGE * self.u_unexplained


def explained_by_climate(
    change: float,
    u_change: float,
    *,
    humidity: tuple[float, float],
    temperature: tuple[float, float],
    rise_per_moisture: tuple[float, float],
    u_humidity: float,
) -> ClimateVerdict:
    """Return the change that the climate makes, and whether it explains the one that was read.

    Parameters
    ----------
    change, u_change
        Reading after less reading before, and its standard uncertainty [mm], not negative.
    humidity
        Relative humidity before and after, held for more than two weeks [%], 15 to 80.
    temperature
        Of the air before and after [degree Celsius], -2 to 50.
    rise_per_moisture
        Rise for each % of moisture and its standard uncertainty [mm], see `season_change`.
    u_humidity
        Standard uncertainty of either humidity [%], not negative.

    Returns
    -------
    ClimateVerdict
        Expected change and what is left, each with its standard uncertainty [mm].

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: JCGM 100:2008, 5.1.2, for the uncertainties.

    >>> air = {"humidity": (45, 65), "temperature": (21, 21), "u_humidity": 3}
    >>> verdict = explained_by_climate(0.5, 0.15, **air, rise_per_moisture=(0.12, 0.06))
    >>> round(verdict.expected, 2), verdict.explained  # worked here
    (0.42, True)
    """
    within("u_change", u_change, 0, inf)
    within("u_humidity", u_humidity, 0, inf)
    values = {
        "humidity_before": humidity[0],
        "humidity_after": humidity[1],
        "temperature_before": temperature[0],
        "temperature_after": temperature[1],
        "rise_per_moisture": rise_per_moisture[0],
    }
    u = {
        "humidity_before": u_humidity,
        "humidity_after": u_humidity,
        "rise_per_moisture": rise_per_moisture[1],
    }
    expected, u_expected = propagate(season_change, values, u)
    left, u_left = propagate(
        unexplained_change, {"before": 0.0, "after": change, **values}, {"after": u_change, **u}
    )
    return ClimateVerdict(expected, u_expected, left, u_left)
