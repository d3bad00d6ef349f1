"""Action: what nut, saddle, neck aim and relief add up to.

In: heights read at the bench [mm]. Exposure and projection are read over the bridge top at the
middle; action at fret 12, opening at fret 1 and relief are means of bass and treble. Out: lengths
[mm].
"""

from __future__ import annotations

from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


def action_change(pitch: float, slack: float) -> float:
    """Return how far the action rises with the load: at pitch less at lower tension [mm].

    `a(pitch) - a(slack)`, both at one string and fret.

    Parameters
    ----------
    pitch, slack
        Action at pitch, and tuned down [mm].

    Source: from memory.

    >>> round(action_change(2.9, 2.6), 6)  # worked here
    0.3
    """
    return pitch - slack


def action_fan(bass: float, treble: float) -> float:
    """Return by how much the bass string stands higher than the treble one [mm].

    `a_bass - a_treble`; 0.5 to 0.8 is usual on steel strings.

    Parameters
    ----------
    bass, treble
        Action at fret 12 under the outer strings [mm].

    Source: common practice, no source.

    >>> round(action_fan(2.4, 1.8), 6)  # worked here
    0.6
    """
    return bass - treble


def _lever(scale_length: float, compensation: float) -> float:
    """Return the share of a change at the saddle that arrives at fret 12, turning about fret 1."""
    first = fret_position(scale_length, 1)
    return (fret_position(scale_length, 12) - first) / (scale_length + compensation - first)


def action_from_geometry(
    first_opening: float,
    exposure: float,
    projection: float,
    relief: float,
    *,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return the action at fret 12 that the other readings ask for [mm].

    `a = (1 - k) g + k (E - d) + s r`, `k = (x12 - x1)/(L + c - x1)`. The straightedge rests on
    fret 1 and the join; over it the string runs straight from `g` at fret 1 to `E - d` at the
    saddle, and fret 12 lies below it by the relief left there. `s` is 0.35 (0.26 to 0.41 by the
    shape of the bow) where the body joins at fret 14, 0 where it joins at 12.

    Parameters
    ----------
    first_opening
        Open string over fret 1 [mm].
    exposure, projection
        Saddle crown and straightedge over the bridge top [mm].
    relief
        Largest gap under the straightedge [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    relief_share
        Relief left at fret 12 for each mm of relief [1].

    Source: geometry; `s` worked out from it, no published source.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> round(action_from_geometry(0.40, 2.78, 0.79, 0.15, **size), 2)  # worked here
    1.2
    """
    k = _lever(scale_length, compensation)
    return (1 - k) * first_opening + k * (exposure - projection) + relief_share * relief


def geometry_residual(
    action: float,
    *,
    first_opening: float,
    exposure: float,
    projection: float,
    relief: float,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return how far the action read differs from the one that geometry asks for [mm].

    `a - action_from_geometry(...)`. Beyond about 0.4 one of the readings is wrong, or they were not
    all taken at one string load.

    Parameters
    ----------
    action
        Action at fret 12 [mm].
    first_opening, exposure, projection, relief, scale_length, compensation, relief_share
        As in `action_from_geometry`.

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> read = {"first_opening": 0.40, "exposure": 2.78, "projection": 0.79, "relief": 0.15}
    >>> round(geometry_residual(1.98, **read, **size), 2)  # worked here
    0.78
    """
    return action - action_from_geometry(
        first_opening,
        exposure,
        projection,
        relief,
        scale_length=scale_length,
        compensation=compensation,
        relief_share=relief_share,
    )


def saddle_for_action(
    exposure: float, action: float, action_wanted: float, scale_length: float, compensation: float
) -> float:
    """Return the saddle exposure that would give a wanted action [mm].

    `E - (a - a_wanted)/k`: about twice the drop wanted comes off the saddle. What the rest of the
    instrument then does is left out (less load on the top, less break angle). A result under 2 mm
    says that the saddle cannot pay.

    Parameters
    ----------
    exposure
        Saddle crown over the bridge top now [mm].
    action, action_wanted
        Action at fret 12 now, and as wanted [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Source: geometry; the 2 mm are common practice, no source.

    >>> round(saddle_for_action(3.6, 2.5, 2.0, 648, 2), 2)  # worked here
    2.53
    """
    return exposure - (action - action_wanted) / _lever(scale_length, compensation)


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
