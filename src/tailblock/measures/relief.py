"""Relief: the bow of the neck, and how much of a lost aim or a high action it makes.

In: relief, projection, action and sizes [mm]. Relief is the largest gap under a straightedge on
fret 1 and the fret at the body. Out: lengths [mm], shares [%].
"""

from __future__ import annotations

from math import inf

from tailblock.measures.arch import arch_radius, sagitta
from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


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


def bow_radius(relief: float, scale_length: float, join: float) -> float:
    """Return the radius of an even bow that has this relief [mm].

    `R = r/2 + c^2/(8 r)`, c from fret 1 to the fret at the body: relief is the sagitta of the arc.

    Parameters
    ----------
    relief
        Largest gap under the straightedge [mm], at least 0.001.
    scale_length
        Nut to saddle without compensation [mm].
    join
        Fret at which neck and body meet [1], 2 to 36.

    Source: plane geometry.

    >>> round(bow_radius(0.2, 648, 14))  # worked here: c = 322.98
    65197
    """
    return arch_radius(relief, _span(scale_length, join))


def bow_relief(radius: float, scale_length: float, join: float) -> float:
    """Return the relief of a neck that is bowed evenly to a radius [mm].

    `r = R - sqrt(R^2 - c^2/4)`, c from fret 1 to the fret at the body.

    Parameters
    ----------
    radius
        Radius of the bow [mm].
    scale_length
        Nut to saddle without compensation [mm].
    join
        Fret at which neck and body meet [1], 2 to 36.

    Source: plane geometry.

    >>> round(bow_relief(65197, 648, 14), 3)  # worked here
    0.2
    """
    return sagitta(_span(scale_length, join), radius)


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


def action_at_normal_relief(
    action: float, relief: float, relief_wanted: float, action_per_relief: float
) -> float:
    """Return the action that would be left if the rod brought relief to what is wanted [mm].

    `a - 2.0 (r - r_wanted)`. The factor is the mean over the same five shapes of bow as in
    `aim_at_normal_relief`; they run from 1.5 to 2.4 (standard uncertainty 0.35).

    Parameters
    ----------
    action
        Action at fret 12 [mm].
    relief, relief_wanted
        Relief as read, and as it should be [mm].
    action_per_relief
        Rise of the action for each mm of relief [1].

    Source: worked out from geometry; no published source.

    >>> round(action_at_normal_relief(2.8, 0.50, 0.15, 2.0), 3)  # worked here
    2.1
    """
    return action - action_per_relief * (relief - relief_wanted)


def rod_share(
    action: float,
    action_wanted: float,
    relief: float,
    relief_wanted: float,
    action_per_relief: float,
) -> float:
    """Return the share of a too high action that the truss rod can take back [%].

    `b / (b + n)`, `b = max(0, 2.0 (r - r_wanted))` and `n = max(0, a - a_wanted - b)`, what neck
    angle, saddle and nut have to find. Nothing too high at all counts as 0 %.

    Parameters
    ----------
    action, action_wanted
        Action at fret 12 now, and as wanted [mm].
    relief, relief_wanted
        Relief as read, and as it should be [mm].
    action_per_relief
        Rise of the action for each mm of relief [1].

    Source: worked out from geometry; no published source.

    >>> round(rod_share(3.4, 2.0, 0.50, 0.15, 2.0), 3)  # worked here: 0.7 of 1.4
    50.0
    """
    if action <= action_wanted:
        return 0.0
    rest = action_at_normal_relief(action, relief, relief_wanted, action_per_relief)
    return _share(action_per_relief * (relief - relief_wanted), rest - action_wanted)


def aim_rod_share(
    projection: float,
    projection_wanted: float,
    relief: float,
    relief_wanted: float,
    aim_per_relief: float,
) -> float:
    """Return the share of a lost aim that is relief and not neck angle [%].

    `b / (b + n)`, `b = max(0, 2.9 (r - r_wanted))` and `n = max(0, d_wanted - d - b)`, what the
    angle of the neck lacks. Nothing lost at all counts as 0 %.

    Parameters
    ----------
    projection, projection_wanted
        Straightedge over the bridge top now, and as wanted [mm].
    relief, relief_wanted
        Relief as read, and as it should be [mm].
    aim_per_relief
        Aim lost for each mm of relief [1].

    Source: worked out from geometry; no published source.

    >>> round(aim_rod_share(-2.0, 0.0, 0.50, 0.15, 2.9), 2)  # worked here: 1.015 of 2.0
    50.75
    """
    if projection >= projection_wanted:
        return 0.0
    rest = aim_at_normal_relief(projection, relief, relief_wanted, aim_per_relief)
    return _share(aim_per_relief * (relief - relief_wanted), projection_wanted - rest)


def _span(scale_length: float, join: float) -> float:
    """Return the distance from fret 1 to the fret at the body."""
    within("scale_length", scale_length, 0, inf)
    within("join", join, 2, 36)
    return fret_position(scale_length, join) - fret_position(scale_length, 1)


def _share(part: float, rest: float) -> float:
    """Return a part of the sum of two parts that are not below zero [%]."""
    part, rest = max(0.0, part), max(0.0, rest)
    return 100 * (part / (part + rest)) if part else 0.0
