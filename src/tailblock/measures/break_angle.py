"""The bend of a string over the saddle, by how the bridge holds its end.

In: heights and distances behind the saddle's crown [mm], tension [N]. Out: angles [degree], forces
[N]. Strings are taken as straight and thin; the bend in front of the saddle, under a degree, is
left out.
"""

from __future__ import annotations

from math import atan2, cos, degrees, inf, radians, sin

from tailblock.measures.limits import within


def break_angle(height: float, distance: float) -> float:
    """Return the angle by which a string bends down behind the saddle [degree].

    `beta = atan(height / distance)`. The string is taken as straight and thin. Over a bridge with
    pins the height is the saddle's exposure, and the edge is the front one of the pin hole.

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


def break_angle_ramped(
    exposure: float, distance: float, ramp_depth: float, ramp_length: float
) -> float:
    """Return the break angle where a ramp leads from the pin hole toward the saddle [degree].

    `beta = atan(min((E + s)/q, E/(q - l)))`: the string leaves the bottom of the ramp at the hole,
    or, if the ramp is short for its depth, the lip where the ramp meets the bridge top.

    Parameters
    ----------
    exposure
        Crown of the saddle over the bridge top [mm], not negative.
    distance
        From the crown to the front edge of the hole [mm], at least 1.
    ramp_depth
        Bottom of the ramp under the bridge top, at the hole [mm], not negative.
    ramp_length
        From the front edge of the hole to the front end of the ramp [mm], less than the distance.

    Raises
    ------
    OutOfRange
        A ramp that runs into the saddle.

    Source: geometry.

    >>> round(break_angle_ramped(2, 8, 1.5, 4), 1)  # worked here: 3.5 over 8, not 2 over 4
    23.6
    """
    within("exposure", exposure, 0, inf)
    within("distance", distance, 1, inf)
    within("ramp_depth", ramp_depth, 0, inf)
    within("ramp_length", ramp_length, 0, distance)
    return min(
        break_angle(exposure + ramp_depth, distance), break_angle(exposure, distance - ramp_length)
    )


def ramping_gain(exposure: float, distance: float, ramp_depth: float, ramp_length: float) -> float:
    """Return the break angle that a ramp wins over a plain pin hole [degree].

    `beta(ramped) - atan(E/q)`.

    Parameters
    ----------
    exposure
        Crown of the saddle over the bridge top [mm], not negative.
    distance
        From the crown to the front edge of the hole [mm], at least 1.
    ramp_depth
        Bottom of the ramp under the bridge top, at the hole [mm], not negative.
    ramp_length
        From the front edge of the hole to the front end of the ramp [mm], less than the distance.

    Source: geometry.

    >>> round(ramping_gain(2, 8, 1.5, 4), 1)  # worked here
    9.6
    """
    ramped = break_angle_ramped(exposure, distance, ramp_depth, ramp_length)
    return ramped - break_angle(exposure, distance)


def break_angle_pinless(exposure: float, hole_drop: float, distance: float) -> float:
    """Return the break angle over a bridge whose strings come out of holes, without pins [degree].

    `beta = atan((E + z) / q)`.

    Parameters
    ----------
    exposure
        Crown of the saddle over the bridge top [mm].
    hole_drop
        Edge on which the string leaves its hole, under the bridge top [mm].
    distance
        From the crown to that edge [mm], at least 1.

    Raises
    ------
    OutOfRange
        The hole lies above the crown.

    Source: geometry.

    >>> round(break_angle_pinless(2.5, 1, 12), 1)  # worked here: 3.5 over 12
    16.3
    """
    within("distance", distance, 1, inf)
    return break_angle(exposure + hole_drop, distance)


def redrilling_gain(exposure: float, hole_drop: float, distance: float, lowered: float) -> float:
    """Return the break angle that a hole drilled lower wins on a pinless bridge [degree].

    `atan((E + z + dz)/q) - atan((E + z)/q)`.

    Parameters
    ----------
    exposure
        Crown of the saddle over the bridge top [mm].
    hole_drop
        Edge on which the string leaves its hole, under the bridge top [mm].
    distance
        From the crown to that edge [mm], at least 1.
    lowered
        How much lower the new hole is [mm].

    Source: geometry; that 1/32 in can be won is common practice, no source.

    >>> round(redrilling_gain(2.5, 1, 12, 0.79), 1)  # worked here: from 16.3 to 19.7
    3.4
    """
    after = break_angle_pinless(exposure, hole_drop + lowered, distance)
    return after - break_angle_pinless(exposure, hole_drop, distance)


def break_angle_tied(exposure: float, hole_drop: float, distance: float, loop_lift: float) -> float:
    """Return the break angle of strings that are tied to a block behind the saddle [degree].

    `beta = atan((E + z - l) / q)`: where each string has one hole, its own loop pulls it up on its
    way to the saddle by about its thickness; with two holes a string it leaves the hole straight.

    Parameters
    ----------
    exposure
        Crown of the saddle over the top of the bridge between saddle and block [mm].
    hole_drop
        Front edge of the hole under that same surface, negative above it [mm].
    distance
        From the crown to the front of the block [mm], at least 1.
    loop_lift
        How far the loop lifts the string out of the hole [mm], not negative; 0 with two holes.

    Raises
    ------
    OutOfRange
        The string leaves the block above the crown.

    Source: geometry; the lift of the loop is common practice, no source.

    >>> round(break_angle_tied(6, -2, 11, 0.8), 1)  # worked here: 3.2 over 11
    16.2
    """
    within("distance", distance, 1, inf)
    within("loop_lift", loop_lift, 0, inf)
    return break_angle(exposure + hole_drop - loop_lift, distance)


def saddle_down_force(tension: float, break_angle: float) -> float:
    """Return the force with which a string presses its saddle down [N].

    `T sin(beta)`.

    Parameters
    ----------
    tension
        Of the string [N], not negative.
    break_angle
        By which it bends down behind the saddle [degree], 0 to 90.

    Source: statics.

    >>> round(saddle_down_force(100, 20), 1)  # worked here
    34.2
    """
    within("tension", tension, 0, inf)
    within("break_angle", break_angle, 0, 90)
    return tension * sin(radians(break_angle))


def saddle_forward_force(tension: float, break_angle: float) -> float:
    """Return the force with which a string pushes the saddle's crown toward the neck [N].

    `T (1 - cos(beta))`, without friction between string and saddle.

    Parameters
    ----------
    tension
        Of the string [N], not negative.
    break_angle
        By which it bends down behind the saddle [degree], 0 to 90.

    Source: statics.

    >>> round(saddle_forward_force(100, 30), 1)  # worked here
    13.4
    """
    within("tension", tension, 0, inf)
    within("break_angle", break_angle, 0, 90)
    return tension * (1 - cos(radians(break_angle)))
