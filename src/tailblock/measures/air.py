"""Air and the water in it.

In: temperatures [degree Celsius], relative humidity [%]. Out: vapour pressure [hPa], dew point
[degree Celsius], relative humidity of the same air at another temperature [%].
"""

from __future__ import annotations

from math import exp, log

from tailblock.measures.limits import within

# Magnus form over water, e = A exp(B t / (C + t)). Coefficients of Alduchov and Eskridge (1996), J.
# Appl. Meteor. 35, 601-609, equation 21, as a public library for meteorology documents them.
_A = 6.1094  # hPa
_B = 17.625
_C = 243.04  # degree Celsius
COLDEST, HOTTEST = -40.0, 50.0


def saturation_vapour_pressure(temperature: float) -> float:
    """Return the pressure of water vapour in saturated air [hPa].

    `6.1094 exp(17.625 t / (243.04 + t))`, over water also below zero, as humidity is reported.

    Parameters
    ----------
    temperature
        [degree Celsius], -40 to 50.

    Raises
    ------
    OutOfRange
        A temperature outside this range.

    Source: Magnus form with the coefficients of Alduchov and Eskridge (1996), equation 21, as
    documented by a public library.

    >>> round(saturation_vapour_pressure(20), 1)  # from steam tables, from memory: 23.4 hPa
    23.3
    """
    within("temperature", temperature, COLDEST, HOTTEST)
    return _A * exp(_B * temperature / (_C + temperature))


def dew_point(temperature: float, humidity: float) -> float:
    """Return the temperature at which the air's water begins to condense [degree Celsius].

    `C g / (B - g)`, `g = ln(RH/100) + B t / (C + t)`, B = 17.625, C = 243.04: the Magnus form
    turned round. A case that comes in colder than this gets wet inside if it is opened.

    Parameters
    ----------
    temperature
        [degree Celsius], -40 to 50.
    humidity
        Relative humidity [%], 1 to 100.

    Raises
    ------
    OutOfRange
        Temperature or humidity outside these ranges.

    Source: as `saturation_vapour_pressure`; opening a cold case slowly is common practice, no
    source.

    >>> round(dew_point(20, 50), 1)  # worked here
    9.3
    """
    within("temperature", temperature, COLDEST, HOTTEST)
    within("humidity", humidity, 1, 100)
    g = log(humidity / 100) + _B * temperature / (_C + temperature)
    return _C * g / (_B - g)


def warmed_humidity(temperature: float, humidity: float, temperature_after: float) -> float:
    """Return the relative humidity of the same air once it is warmed or cooled [%].

    `RH e(t)/e(t_after)`: the vapour keeps its pressure, as in a heated room that takes its air from
    outside and adds no water. People, plants and cooking add some, so that a real room in winter is
    mostly some per cent damper.

    Parameters
    ----------
    temperature
        Of the air as it is [degree Celsius], -40 to 50.
    humidity
        Its relative humidity [%], 0 to 100.
    temperature_after
        To which it is brought [degree Celsius], -40 to 50, not below the dew point.

    Raises
    ------
    OutOfRange
        A value outside these ranges, or air that would condense.

    Source: as `saturation_vapour_pressure`.

    >>> round(warmed_humidity(0, 80, 21))  # worked here: e 6.11 and 24.8 hPa
    20
    """
    within("humidity", humidity, 0, 100)
    pressure = humidity * saturation_vapour_pressure(temperature)
    after = pressure / saturation_vapour_pressure(temperature_after)
    within("humidity_after", after, 0, 100 * (1 + 1e-9))
    return after
