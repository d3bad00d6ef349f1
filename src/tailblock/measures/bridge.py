"""Bridge and saddle.

In: tilt of the bridge [degree], heights and distances at the saddle [mm]. Out: angles [degree],
ratios [1].
"""

from __future__ import annotations

from math import atan2, degrees, inf

from tailblock.measures.limits import within


def tilt_change(pitch: float, slack: float) -> float:
    """Return how far the bridge turns toward the soundhole under string load [degree].

    `tilt(pitch) - tilt(slack)`. Holds if the angle box was zeroed at the same place both times.

    Parameters
    ----------
    pitch, slack
        Tilt of the bridge top, positive toward the soundhole [degree].

    Source: from memory.

    >>> round(tilt_change(2.6, 1.1), 6)  # worked here
    1.5
    """
    return pitch - slack


def break_angle(height: float, distance: float) -> float:
    """Return the angle by which a string bends down behind the saddle [degree].

    `beta = atan(height / distance)`. The string is taken as straight and thin.

    Parameters
    ----------
    height
        Crown of the saddle over the edge where the string leaves its hole [mm], not negative.
    distance
        From the crown to that edge [mm], not negative.

    Source: geometry.

    >>> round(break_angle(3, 8), 1)  # worked here
    20.6
    """
    within("height", height, 0, inf)
    within("distance", distance, 0, inf)
    return degrees(atan2(height, distance))


def saddle_share(slot_depth: float, exposure: float) -> float:
    """Return how deep a saddle stands in its slot for each mm that shows [1].

    `slot depth / exposure`; 2 is "two thirds in the slot".

    Parameters
    ----------
    slot_depth
        Depth of the slot [mm], not negative.
    exposure
        Saddle over the bridge top [mm], at least 0.05.

    Source: common practice, no source.

    >>> saddle_share(6, 3)  # worked here
    2.0
    """
    within("slot_depth", slot_depth, 0, inf)
    within("exposure", exposure, 0.05, inf)
    return slot_depth / exposure
