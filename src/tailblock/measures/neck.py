"""Neck, its relief and its angle.

In: relief, projection and sizes of the neck [mm]. Projection is where a straightedge on the frets
arrives at the bridge: height over the bridge top, positive above. Out: lengths [mm], angles
[degree].
"""

from __future__ import annotations

from math import atan, degrees

from tailblock.measures.frets import join_to_saddle


def relief_twist(bass: float, treble: float) -> float:
    """Return how far relief under the outer strings differs, without its sign [mm].

    `|r_bass - r_treble|`. Holds if both are read at one string load; the gauge of the strings
    under the capo adds a few hundredths.

    Parameters
    ----------
    bass, treble
        Relief along either side of the board [mm].

    Source: common practice, no source.

    >>> round(relief_twist(0.30, 0.12), 6)  # worked here
    0.18
    """
    return abs(bass - treble)


def relief_change(pitch: float, slack: float) -> float:
    """Return how far the neck bends under the strings: relief at pitch less relief without [mm].

    `r(pitch) - r(slack)`. The rod must not be touched in between.

    Parameters
    ----------
    pitch, slack
        Relief at pitch, and with strings slack or off [mm].

    Source: from memory.

    >>> round(relief_change(0.30, 0.05), 6)  # worked here
    0.25
    """
    return pitch - slack


def projection_change(slack: float, pitch: float) -> float:
    """Return how much aim the neck loses under string load [mm].

    `d(slack) - d(pitch)`: positive where the strings fold the neck forward, as they always do a
    little. Holds for readings at one place and one humidity.

    Parameters
    ----------
    slack, pitch
        Projection with strings slack and at pitch [mm].

    Source: from memory.

    >>> projection_change(0.5, -0.5)  # worked here
    1.0
    """
    return slack - pitch


def aim_at_normal_relief(
    projection: float, relief: float, relief_wanted: float, aim_per_relief: float
) -> float:
    """Return the projection that the neck would have at its wanted relief [mm].

    `d + 2.9 (r - r_wanted)`. The factor is the mean over five shapes of bow, tangent at the join,
    of a 648 mm scale with the body at fret 14; they run from 2.2 to 3.6 (standard uncertainty 0.5).

    Parameters
    ----------
    projection
        Straightedge over the bridge top [mm].
    relief, relief_wanted
        Relief as read, and as it should be [mm].
    aim_per_relief
        Aim lost for each mm of relief [1].

    Source: worked out from geometry; no published source.

    >>> round(aim_at_normal_relief(-1.0, 0.50, 0.15, 2.9), 3)  # worked here
    0.015
    """
    return projection + aim_per_relief * (relief - relief_wanted)


def neck_reset_angle(rise: float, scale_length: float, join: float, compensation: float) -> float:
    """Return by how much a neck must be turned back to raise its projection [degree].

    `theta = atan(y / D)`, D from the join to the saddle, about the top edge of the joint. The body
    is taken as stiff.

    Parameters
    ----------
    rise
        Projection to be gained at the saddle [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(neck_reset_angle(5.036, 647.7, 14, 0), 3)  # worked here
    1.0
    """
    return degrees(atan(rise / join_to_saddle(scale_length, join, compensation)))


def heel_cut(
    rise: float, heel_height: float, scale_length: float, join: float, compensation: float
) -> float:
    """Return the wood to take off the cheek of the heel, measured at the heel cap [mm].

    `t = y h / D`, running out to nothing at the top: both are arcs about the top edge of the joint.
    Holds for small angles. More than about 1.5 mm asks for another look at bridge and top first.

    Parameters
    ----------
    rise
        Projection to be gained at the saddle [mm].
    heel_height
        Top edge of the joint to the heel cap [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry; the caution is common practice, no source.

    >>> round(heel_cut(3.53, 85, 648, 14, 2), 2)  # worked here
    1.03
    """
    return rise * heel_height / join_to_saddle(scale_length, join, compensation)
