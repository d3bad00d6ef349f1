"""What time and season do to the action.

In: action [mm], hours, humidity [%]. Out: lengths [mm], ratios [1].
"""

from __future__ import annotations

from math import exp, inf

from tailblock.measures.limits import within


def action_forecast(
    action: float, age: float, later: float, settling_rise: float, settling_time: float
) -> float:
    """Return the action to be expected later, while the instrument settles under its strings [mm].

    `a + A (exp(-t/tau) - exp(-t_later/tau))`: the part of the rise A that is still to come. Holds
    for a sound instrument in an even climate.

    Parameters
    ----------
    action
        Action at fret 12, read at the age [mm].
    age, later
        Time since stringing of the reading and of the forecast [h], the later not before the other.
    settling_rise
        Whole rise from stringing until it stands still [mm].
    settling_time
        Time in which all but 37 % of it is done [h], at least 1.

    Raises
    ------
    OutOfRange
        A forecast for a time before the reading.

    Source: common practice, no source, for the rise (about half of 1/64 in); the law and its 48
    hours from memory.

    >>> round(action_forecast(2.0, 0, 72, 0.25, 48), 2)  # worked here: 0.19 by the third day
    2.19
    """
    within("age", age, 0, inf)
    within("later", later, age, inf)
    within("settling_time", settling_time, 1, inf)
    return action + settling_rise * (exp(-age / settling_time) - exp(-later / settling_time))


def settling_ratio(start: float, early: float, late: float) -> float:
    """Return how the later rise of the action compares with the earlier one [1].

    `(a_late - a_early)/(a_early - a_start)`, for readings at stringing, on day 3 and on day 7:
    about 0.25 where an instrument settles in 48 hours; over 1 it does not settle, it moves.

    Parameters
    ----------
    start, early, late
        Action at fret 12 at stringing, on the third and on the seventh day [mm]; from the first to
        the second it rises by at least 0.02.

    Raises
    ------
    OutOfRange
        No rise in the first days to compare with.

    Source: worked out from `action_forecast`; no published source.

    >>> round(settling_ratio(2.0, 2.2, 2.25), 2)  # worked here
    0.25
    """
    within("rise_in_the_first_days", early - start, 0.02, inf)
    return (late - early) / (early - start)


def season_action(
    action: float, humidity: float, humidity_wanted: float, rise_per_percent: float
) -> float:
    """Return the action that would be read at another humidity [mm].

    `a - b (RH - RH_wanted)`, b = 0.02 mm for each % (standard uncertainty 0.01). Holds where the
    humidity has stood for more than two weeks, and from 35 to 60 %; outside that the instrument
    is conditioned first.

    Parameters
    ----------
    action
        Action at fret 12 [mm].
    humidity, humidity_wanted
        Relative humidity that was held, and the one to refer to [%].
    rise_per_percent
        Rise of the action for each % of humidity [mm].

    Raises
    ------
    OutOfRange
        The humidity held is below 35 or above 60 %.

    Source: from memory.

    >>> round(season_action(2.5, 55, 45, 0.02), 6)  # worked here
    2.3
    """
    within("humidity", humidity, 35, 60)
    return action - rise_per_percent * (humidity - humidity_wanted)
