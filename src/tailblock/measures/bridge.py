"""The bridge under its load.

In: tilt of the bridge [degree], gaps, heights and distances [mm], string tension [N]. Out: angles
[degree], moments [N mm], lengths [mm].
"""

from __future__ import annotations

from math import atan, degrees, inf, radians, sin

from tailblock.measures.arch import sagitta
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


def bridge_tilt(
    front_gap: float, back_gap: float, front_distance: float, back_distance: float, radius: float
) -> float:
    """Return the tilt of the bridge toward the soundhole, from gaps under a straightedge [degree].

    `atan(((g_back - s_back) - (g_front - s_front)) / (x_front + x_back))`. The straightedge is held
    on the bridge top along the strings; `s(x)` is what the made dome falls away at x from its
    crown, the middle of the bridge. The gaps are read beyond hump and dip, where the top keeps its
    place: toward the tail block, and between soundhole and neck. A bridge planed thinner at one
    edge shows that as tilt. For a top that was made flat the radius is very large (1 km).

    Parameters
    ----------
    front_gap, back_gap
        Straightedge over the top, on the soundhole side and on the tail side [mm].
    front_distance, back_distance
        From the middle of the bridge to where the gaps are read [mm], at least 20.
    radius
        Radius of the dome as it was made [mm].

    Raises
    ------
    OutOfRange
        A gap read on the bridge itself, or farther out than the dome reaches.

    Source: plane geometry.

    >>> round(bridge_tilt(7.0, 12.0, 150, 100, 7620), 2)  # worked here: 5.0 and 0.82 over 250
    1.33
    """
    within("front_distance", front_distance, 20, inf)
    within("back_distance", back_distance, 20, inf)
    front = front_gap - sagitta(2 * front_distance, radius)
    back = back_gap - sagitta(2 * back_distance, radius)
    return degrees(atan((back - front) / (front_distance + back_distance)))


def crown_shift(tilt: float, string_height: float) -> float:
    """Return how far a tilted bridge carries the saddle's crown toward the neck [mm].

    `H sin(phi)`, the bridge turning about the top under it.

    Parameters
    ----------
    tilt
        Tilt of the bridge toward the soundhole [degree], -45 to 45.
    string_height
        Crown of the saddle over the top of the body [mm].

    Source: geometry.

    >>> round(crown_shift(2, 13), 2)  # worked here
    0.45
    """
    within("tilt", tilt, -45, 45)
    return string_height * sin(radians(tilt))


def string_height(bridge_height: float, exposure: float) -> float:
    """Return the height of the strings over the top of the body at the saddle [mm].

    `H = T + E`; more than 0.6 off what is read there, and one of the three readings is wrong.

    Parameters
    ----------
    bridge_height
        Top of the bridge over the top of the body [mm].
    exposure
        Saddle crown over the bridge top at the same string [mm].

    Source: geometry.

    >>> round(string_height(9.0, 3.5), 6)  # worked here
    12.5
    """
    return bridge_height + exposure


def bridge_height_from_strings(string_height: float, exposure: float) -> float:
    """Return the height of the bridge over the top of the body, from strings and saddle [mm].

    `T = H - E`: what no saddle makes up for once a bridge was planed down.

    Parameters
    ----------
    string_height
        Strings over the top of the body at the saddle [mm].
    exposure
        Saddle crown over the bridge top [mm].

    Source: geometry.

    >>> round(bridge_height_from_strings(12.5, 3.5), 6)  # worked here
    9.0
    """
    return string_height - exposure


def bridge_height_from_aim(aim_over_top: float, projection: float, wing_drop: float) -> float:
    """Return the height of the bridge over the top of the body, from two readings of the aim [mm].

    `T = p - d - w`: both are read with one straightedge on the frets, so a bowed or a low neck
    moves them alike. A domed top falls away from the middle to the wings, where p is read.

    Parameters
    ----------
    aim_over_top
        Straightedge over the top of the body, beside the bridge [mm].
    projection
        Straightedge over (+) or under (-) the top of the bridge [mm].
    wing_drop
        How much lower the top lies beside the wings than under the middle [mm].

    Source: geometry.

    >>> round(bridge_height_from_aim(9.8, 0.5, 0.3), 6)  # worked here
    9.0
    """
    return aim_over_top - projection - wing_drop


def bridge_moment(tension: float, string_height: float) -> float:
    """Return the moment with which the strings turn the bridge toward the neck [N mm].

    `M = T H`. The break angle does not come into it: string and ball end pull at each other inside
    the bridge, and what turns it from outside is the tension in front of the saddle alone. Not for
    a bridge with a tailpiece.

    Parameters
    ----------
    tension
        Of all strings together [N], not negative.
    string_height
        Strings over the top of the body at the saddle [mm], not negative.

    Source: statics, force times arm.

    >>> bridge_moment(700, 12)  # worked here
    8400
    """
    within("tension", tension, 0, inf)
    within("string_height", string_height, 0, inf)
    return tension * string_height
