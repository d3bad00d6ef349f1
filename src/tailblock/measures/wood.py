"""Wood and moisture.

In: temperature [degree Celsius], relative humidity [%], sizes [mm]. Out: moisture content [% of dry
mass], change of size [mm].
"""

from __future__ import annotations

from tailblock.measures.limits import within


def equilibrium_moisture(temperature: float, humidity: float) -> float:
    """Return the moisture content that wood comes to in still air [% of dry mass].

    `M = 1800/W (a/(1-a) + (K1 a + 2 K1 K2 a^2)/(1 + K1 a + K1 K2 a^2))`, `a = K h`, h the relative
    humidity as a fraction, W, K, K1, K2 polynomials of the temperature. Species differ by about 1 %
    of moisture, so no more than one decimal means anything.

    Parameters
    ----------
    temperature
        Of the air [degree Celsius], -2 to 100.
    humidity
        Relative humidity [%], 0 to 100; the published table runs from 5 to 95.

    Raises
    ------
    OutOfRange
        Temperature or humidity outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 4-5 (C form).

    >>> round(equilibrium_moisture(20, 50), 6)  # from a public conservation-science library
    9.271141
    """
    within("temperature", temperature, -2, 100)
    within("humidity", humidity, 0, 100)
    t = temperature
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    a = k * humidity / 100
    chemical = (k1 * a + 2 * k1 * k2 * a**2) / (1 + k1 * a + k1 * k2 * a**2)
    return 1800 / w * (a / (1 - a) + chemical)


def dimensional_change(
    size: float, coefficient: float, moisture_before: float, moisture_after: float
) -> float:
    """Return how much a free piece of wood swells (or, negative, shrinks) across the grain [mm].

    `dD = D C (M_after - M_before)`. Holds from 6 to 14 % of moisture and is close a little
    outside; no wood moves above about 30 %. A glued-in plate cannot move so far: it arches, sinks
    or cracks instead.

    Parameters
    ----------
    size
        Across the grain at the moisture before [mm].
    coefficient
        Change of size for each % of moisture, as a fraction: radial for quarter-sawn wood,
        tangential for flat-sawn [1].
    moisture_before, moisture_after
        Moisture content [%], 0 to 30.

    Raises
    ------
    OutOfRange
        A moisture content below 0 or above 30 %.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 13-2.

    >>> round(dimensional_change(232, 0.00245, 8, 11), 1)  # from the Wood Handbook, white fir
    1.7
    """
    within("moisture_before", moisture_before, 0, 30)
    within("moisture_after", moisture_after, 0, 30)
    return size * coefficient * (moisture_after - moisture_before)
