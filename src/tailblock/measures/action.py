"""Action: what nut, saddle, neck aim and relief add up to.

In: heights read at the bench [mm]. Exposure and projection are read over the bridge top at the
middle; action at fret 12, opening at fret 1 and relief are means of bass and treble. Out: lengths
[mm].
"""

from __future__ import annotations

from tailblock.measures.saddle import crown_over_line, share_at_fret_12


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
    k = share_at_fret_12(scale_length, compensation)
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


def projection_from_action(
    action: float,
    first_opening: float,
    exposure: float,
    relief: float,
    *,
    scale_length: float,
    compensation: float,
    relief_share: float,
) -> float:
    """Return where a straightedge on the frets must meet the bridge, from the other readings [mm].

    `d = E - (a - (1 - k) g - s r)/k`: the identity of `action_from_geometry` the other way round.
    An error of the action counts 1/k, about twice, here.

    Parameters
    ----------
    action
        Action at fret 12 [mm].
    first_opening
        Open string over fret 1 [mm].
    exposure
        Saddle crown over the bridge top [mm].
    relief
        Largest gap under the straightedge [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    relief_share
        Relief left at fret 12 for each mm of relief [1].

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2, "relief_share": 0.35}
    >>> round(projection_from_action(1.98, 0.40, 2.78, 0.15, **size), 2)  # worked here
    -0.88
    """
    return exposure - crown_over_line(
        action,
        first_opening,
        relief,
        scale_length=scale_length,
        compensation=compensation,
        relief_share=relief_share,
    )
