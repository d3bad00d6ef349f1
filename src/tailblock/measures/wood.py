"""Wood and moisture: what it holds and how far it moves across the grain.

In: temperature [degree Celsius], relative humidity and shrinkage [%], sizes [mm], time [h]. Out:
moisture content [% of dry mass], change of size [mm].
"""

from __future__ import annotations

from math import exp, inf

from tailblock.measures.limits import within


def equilibrium_moisture(temperature: float, humidity: float, species_offset: float = 0.0) -> float:
    """Return the moisture content that wood comes to in still air [% of dry mass].

    `M = 1800/W (a/(1-a) + (K1 a + 2 K1 K2 a^2)/(1 + K1 a + K1 K2 a^2))`, `a = K h`, h the relative
    humidity as a fraction, W, K, K1, K2 polynomials of the temperature. Species differ by about 1 %
    of moisture or less (0 +- 0.58), so no more than one decimal means anything.

    Parameters
    ----------
    temperature
        Of the air [degree Celsius], -2 to 100.
    humidity
        Relative humidity [%], 0 to 100; the published table runs from 5 to 95.
    species_offset
        How much more moisture this wood holds than the common table says [%], -2 to 2.

    Raises
    ------
    OutOfRange
        Temperature, humidity or offset outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 4-5 (C form);
    the spread of species from a technical note of the same laboratory.

    >>> round(equilibrium_moisture(20, 50), 6)  # from a public conservation-science library
    9.271141
    """
    within("temperature", temperature, -2, 100)
    within("humidity", humidity, 0, 100)
    within("species_offset", species_offset, -2, 2)
    t = temperature
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    a = k * humidity / 100
    chemical = (k1 * a + 2 * k1 * k2 * a**2) / (1 + k1 * a + k1 * k2 * a**2)
    return 1800 / w * (a / (1 - a) + chemical) + species_offset


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


def shrinkage_coefficient(shrinkage: float, shrinkage_start: float) -> float:
    """Return the change of size for each % of moisture from a wood's whole shrinkage [1].

    `C = (S/F) / (1 - (S/F)(F - 10))`, S as a fraction: a straight line from the start of shrinkage,
    referred to the size at 10 % of moisture.

    Parameters
    ----------
    shrinkage
        From green to oven-dry, radial or tangential [%], 0 to 20.
    shrinkage_start
        Moisture at which shrinkage starts [%], 20 to 35: 30 for most woods, 22 for a few (cedars,
        redwood, mahogany; the 22 from memory).

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), note to table 13-5 (the
    rule from memory; it gives every coefficient of the table for which both tables were read).

    >>> round(shrinkage_coefficient(7.0, 30), 5)  # from the Wood Handbook, white fir, tangential
    0.00245
    """
    within("shrinkage", shrinkage, 0, 20)
    within("shrinkage_start", shrinkage_start, 20, 35)
    slope = shrinkage / 100 / shrinkage_start
    return slope / (1 - slope * (shrinkage_start - 10))


def change_from_shrinkage(
    size: float, shrinkage: float, moisture_before: float, moisture_after: float
) -> float:
    """Return how much wood swells (or, negative, shrinks), also outside 6 to 14 % of moisture [mm].

    `dD = D (M_after - M_before) / (3000/S - 30 + M_before)`. For a wood that starts to shrink at
    30 % of moisture.

    Parameters
    ----------
    size
        Across the grain at the moisture before [mm].
    shrinkage
        From green to oven-dry, radial or tangential [%], 0.1 to 20.
    moisture_before, moisture_after
        Moisture content [%], 0 to 30.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 13-3 (its
    algebra from memory).

    >>> round(change_from_shrinkage(232, 7.0, 8, 11), 1)  # from the Wood Handbook, white fir
    1.7
    """
    within("shrinkage", shrinkage, 0.1, 20)
    within("moisture_before", moisture_before, 0, 30)
    within("moisture_after", moisture_after, 0, 30)
    return size * (moisture_after - moisture_before) / (3000 / shrinkage - 30 + moisture_before)


def fret_sprout(
    board_width: float, board_coefficient: float, moisture_before: float, moisture_after: float
) -> float:
    """Return how far fret ends stand out on either side once the board has shrunk [mm].

    `-W C (M_after - M_before) / 2`: the wire keeps its length. Negative where the board has swollen
    over the ends. A bound board hides some of it.

    Parameters
    ----------
    board_width
        Width of the board at that fret [mm], 0 to 120.
    board_coefficient
        Change of size for each % of moisture, as a fraction [1].
    moisture_before, moisture_after
        Moisture content when the ends were dressed flush, and now [%], 0 to 30.

    Raises
    ------
    OutOfRange
        A width or a moisture content outside these ranges.

    Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), equation 13-2.

    >>> round(fret_sprout(52, 0.0015, 9, 6), 3)  # worked here
    0.117
    """
    within("board_width", board_width, 0, 120)
    change = dimensional_change(board_width, board_coefficient, moisture_before, moisture_after)
    return -change / 2


def moisture_underway(
    moisture_before: float, moisture_final: float, time_held: float, wood_time: float
) -> float:
    """Return the moisture that a plate has reached while it is still on its way [% of dry mass].

    `M_final + (M_before - M_final) exp(-t/tau)`: a rough law of one time. A bare plate of 2.8 mm
    settles in days, one finished on both sides in one to three weeks (tau 168 h, standard
    uncertainty 96), braces and blocks in months.

    Parameters
    ----------
    moisture_before
        When the air changed [%], 0 to 30.
    moisture_final
        To which it comes in the new air [%], 0 to 30, see `equilibrium_moisture`.
    time_held
        Since the air changed [h], not negative.
    wood_time
        In which all but 37 % of the way is done [h], at least 1.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: from memory.

    >>> round(moisture_underway(9, 6, 168, 168), 2)  # worked here: 37 % of 3 % still to go
    7.1
    """
    within("moisture_before", moisture_before, 0, 30)
    within("moisture_final", moisture_final, 0, 30)
    within("time_held", time_held, 0, inf)
    within("wood_time", wood_time, 1, inf)
    return moisture_final + (moisture_before - moisture_final) * exp(-time_held / wood_time)
