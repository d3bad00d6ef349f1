"""Whether the climate alone explains that a reading has changed.

In: readings [mm], temperatures [degree Celsius], relative humidities [%]. Out: the change to be
expected, what it leaves unexplained [mm], and a verdict.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from tailblock.measures.limits import within
from tailblock.measures.uncertainty import propagate
from tailblock.measures.wood import dimensional_change, equilibrium_moisture

DRIEST, DAMPEST = 15.0, 80.0  # % of humidity; beyond it wood takes harm, and no rule of thumb holds
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


def moisture_change(
    temperature_before: float,
    humidity_before: float,
    temperature_after: float,
    humidity_after: float,
) -> float:
    """Return by how much the moisture of wood changes from one air to another [% of dry mass].

    `M(t_after, RH_after) - M(t_before, RH_before)`, each by `equilibrium_moisture`. Holds once the
    wood has come to rest in both, see `moisture_underway`. That species differ by about 1 % of
    moisture cancels.

    Parameters
    ----------
    temperature_before, temperature_after
        Of the air [degree Celsius], -2 to 50.
    humidity_before, humidity_after
        Relative humidity [%], 15 to 80.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 4-5.

    >>> round(moisture_change(21.1, 45, 21.1, 25), 1)  # from the Wood Handbook, table 4-2: 8.5, 5.4
    -3.1
    """
    for name, value in (("before", temperature_before), ("after", temperature_after)):
        within(f"temperature_{name}", value, -2, 50)
    for name, value in (("before", humidity_before), ("after", humidity_after)):
        within(f"humidity_{name}", value, DRIEST, DAMPEST)
    after = equilibrium_moisture(temperature_after, humidity_after)
    return after - equilibrium_moisture(temperature_before, humidity_before)


def season_width_change(
    size: float,
    coefficient: float,
    humidity_before: float,
    humidity_after: float,
    *,
    temperature_before: float,
    temperature_after: float,
) -> float:
    """Return how much a free plate or board swells (or, negative, shrinks) with the air [mm].

    `D C (M_after - M_before)`, M by `equilibrium_moisture`. Across the lower bout this is what
    seams and cracks must find room for; a glued-in top moves less and is strained instead.

    Parameters
    ----------
    size
        Across the grain [mm].
    coefficient
        Change of size for each % of moisture, as a fraction [1].
    humidity_before, humidity_after
        Relative humidity [%], 15 to 80.
    temperature_before, temperature_after
        Of the air [degree Celsius], -2 to 50.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equations 4-5 and 13-2.

    >>> at = {"temperature_before": 21.1, "temperature_after": 21.1}
    >>> round(season_width_change(400, 0.00148, 45, 25, **at), 2)  # worked here
    -1.83
    """
    moisture = moisture_change(
        temperature_before, humidity_before, temperature_after, humidity_after
    )
    before = equilibrium_moisture(temperature_before, humidity_before)
    return dimensional_change(size, coefficient, before, before + moisture)


def season_change(
    humidity_before: float,
    humidity_after: float,
    *,
    temperature_before: float,
    temperature_after: float,
    rise_per_moisture: float,
) -> float:
    """Return how far a height is expected to rise (or, negative, to sink) with the air [mm].

    `b (M_after - M_before)`. For the action b = 0.12 mm for each % of moisture (standard
    uncertainty 0.06); for the dome 0.28 +- 0.1; for the projection of the neck, which the rising
    top loses, -0.25 +- 0.12 (the first divided by the lever of the saddle, 0.47). At room climate
    1 % of moisture is about 6 % of humidity, so the first is the 0.02 mm for each % of humidity of
    `season_action`.

    Parameters
    ----------
    humidity_before, humidity_after
        Relative humidity, held for more than two weeks [%], 15 to 80.
    temperature_before, temperature_after
        Of the air [degree Celsius], -2 to 50.
    rise_per_moisture
        Rise of the height for each % of moisture [mm].

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: from memory.

    >>> at = {"temperature_before": 21, "temperature_after": 21}
    >>> round(season_change(45, 55, **at, rise_per_moisture=0.12), 2)  # worked here
    0.19
    """
    return rise_per_moisture * moisture_change(
        temperature_before, humidity_before, temperature_after, humidity_after
    )


def unexplained_change(
    before: float,
    after: float,
    humidity_before: float,
    humidity_after: float,
    *,
    temperature_before: float,
    temperature_after: float,
    rise_per_moisture: float,
) -> float:
    """Return what is left of a change once the climate has had its share [mm].

    `(after - before) - season_change(...)`. The climate alone explains the change if what is left
    lies within two standard uncertainties of zero; otherwise something else has moved too.

    Parameters
    ----------
    before, after
        The same height, read in either air [mm].
    humidity_before, humidity_after, temperature_before, temperature_after, rise_per_moisture
        As in `season_change`.

    Raises
    ------
    OutOfRange
        A humidity or temperature outside the ranges of `season_change`.

    Source: from memory.

    >>> at = {"temperature_before": 21, "temperature_after": 21, "rise_per_moisture": 0.12}
    >>> round(unexplained_change(2.0, 2.9, 45, 55, **at), 2)  # worked here
    0.71
    """
    return (after - before) - season_change(
        humidity_before,
        humidity_after,
        temperature_before=temperature_before,
        temperature_after=temperature_after,
        rise_per_moisture=rise_per_moisture,
    )


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
