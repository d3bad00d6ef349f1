"""How high a saddle must be: the lever from the saddle to the string's height at fret 12.

In: heights read at the bench [mm]; exposure is the saddle's crown over the bridge top. Out: lengths
[mm], shares [1].
"""

from __future__ import annotations

from tailblock.measures.frets import fret_position


def share_at_fret_12(scale_length: float, compensation: float) -> float:
    """Return the share of a change at the saddle that arrives at fret 12 [1].

    `k = (x12 - x1)/(L + c - x1)`: the string turns about where it passes fret 1. A little under a
    half, whatever the scale.

    Parameters
    ----------
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Source: geometry.

    >>> round(share_at_fret_12(648, 2), 4)  # worked here
    0.4687
    """
    first = fret_position(scale_length, 1)
    return (fret_position(scale_length, 12) - first) / (scale_length + compensation - first)


def crown_over_line(
    action: float,
    first_opening: float,
    relief: float,
    *,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return how high the crown stands over the line of the frets at the saddle [mm].

    `(a - (1 - k) g - share r) / k`, exposure less projection: what the action at fret 12 asks for.

    Parameters
    ----------
    action
        Action at fret 12 [mm].
    first_opening
        Open string over fret 1 [mm].
    relief
        Largest gap under the straightedge [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    relief_share
        Relief left at fret 12 for each mm of relief [1].

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> round(crown_over_line(2.0, 0.45, 0.15, **size), 2)  # worked here
    3.65
    """
    k = share_at_fret_12(scale_length, compensation)
    return (action - (1 - k) * first_opening - relief_share * relief) / k


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
    return exposure - (action - action_wanted) / share_at_fret_12(scale_length, compensation)


def action_for_saddle(
    exposure: float, action: float, exposure_wanted: float, scale_length: float, compensation: float
) -> float:
    """Return the action that another saddle would give [mm].

    `a + k (E_wanted - E)`: the way back from `saddle_for_action`.

    Parameters
    ----------
    exposure, exposure_wanted
        Saddle crown over the bridge top now, and as it would be [mm].
    action
        Action at fret 12 now [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Source: geometry.

    >>> round(action_for_saddle(3.6, 2.5, 2.6, 648, 2), 2)  # worked here
    2.03
    """
    return action + share_at_fret_12(scale_length, compensation) * (exposure_wanted - exposure)


def saddle_from_geometry(
    action_wanted: float,
    first_opening: float,
    projection: float,
    relief: float,
    *,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return the saddle exposure that an action needs on a neck of this aim [mm].

    `E = d + (a_wanted - (1 - k) g - s r)/k`: the identity of `action.action_from_geometry`, solved
    for the saddle; for a neck that has no saddle yet.

    Parameters
    ----------
    action_wanted
        Action at fret 12 as wanted [mm].
    first_opening
        Open string over fret 1 [mm].
    projection
        Straightedge over the bridge top, at pitch [mm].
    relief
        Largest gap under the straightedge [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    relief_share
        Relief left at fret 12 for each mm of relief [1].

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> round(saddle_from_geometry(2.0, 0.45, 0.0, 0.15, **size), 2)  # worked here
    3.65
    """
    return projection + crown_over_line(
        action_wanted,
        first_opening,
        relief,
        scale_length=scale_length,
        compensation=compensation,
        relief_share=relief_share,
    )
