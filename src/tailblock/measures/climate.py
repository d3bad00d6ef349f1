"""What a change of the air does to moisture, to widths and to heights.

In: readings and sizes [mm], temperatures [degree Celsius], relative humidities [%]. Out: change of
moisture [% of dry mass], changes to be expected and what they leave unexplained [mm].
"""

from __future__ import annotations

from tailblock.measures.limits import within
from tailblock.measures.wood import dimensional_change, equilibrium_moisture

DRIEST, DAMPEST = 15.0, 80.0  # % of humidity; beyond it wood takes harm, and no rule of thumb holds


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
