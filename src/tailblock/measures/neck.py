"""The aim and the angle of the neck.

In: projection and sizes of the neck [mm]. Projection is where a straightedge on the frets arrives
at the bridge: height over the bridge top, positive above. Out: lengths [mm], angles [degree].
"""

from __future__ import annotations

from math import atan, degrees, inf, radians, tan

from tailblock.measures.frets import join_to_saddle
from tailblock.measures.limits import within


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


def projection_from_heights(
    height_at_join: float,
    height_at_end: float,
    tongue_length: float,
    bridge_height: float,
    *,
    scale_length: float,
    join: float,
    compensation: float,
) -> float:
    """Return where the line of the frets meets the bridge if no straightedge reaches it [mm].

    `d = h_join + (h_end - h_join) D / e - T`: the line through two heights over the top, run on
    from the join to the saddle. The top is taken as flat from the join to the bridge. The end of
    the tongue is near and the bridge far, so an error there counts D/e times, more than three on
    most instruments.

    Parameters
    ----------
    height_at_join, height_at_end
        Crowns of the frets over the top, at the join and at the soundhole end of the board [mm].
    tongue_length
        From the join to where the second height was read [mm], at least 10.
    bridge_height
        Top of the bridge over the top of the body [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Raises
    ------
    OutOfRange
        The two heights lie less than 10 mm apart.

    Source: geometry.

    >>> size = {"scale_length": 648, "join": 14, "compensation": 2}
    >>> round(projection_from_heights(7.5, 8.1, 90, 9, **size), 2)  # worked here
    0.44
    """
    within("tongue_length", tongue_length, 10, inf)
    reach = join_to_saddle(scale_length, join, compensation)
    climb = (height_at_end - height_at_join) / tongue_length
    return height_at_join + climb * reach - bridge_height


def aim_lost(projection: float, projection_wanted: float) -> float:
    """Return the neck angle that is lost, as height at the bridge [mm].

    `d_wanted - d`; negative where the neck aims higher than wanted. With the projection that
    `aim_at_normal_relief` or `aim_without_hump` gives it is what the neck alone has lost.

    Parameters
    ----------
    projection, projection_wanted
        Straightedge over the bridge top now, and as wanted [mm].

    Source: geometry.

    >>> aim_lost(-2.5, 0.0)  # worked here
    2.5
    """
    return projection_wanted - projection


def neck_angle_lost(
    projection: float,
    projection_wanted: float,
    scale_length: float,
    join: float,
    compensation: float,
) -> float:
    """Return the neck angle that is lost [degree].

    `theta = atan((d_wanted - d) / D)`, D from the join to the saddle.

    Parameters
    ----------
    projection, projection_wanted
        Straightedge over the bridge top now, and as wanted [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(neck_angle_lost(-2.5, 0.0, 648, 14, 2), 3)  # worked here: 2.5 over 290.65
    0.493
    """
    lost = aim_lost(projection, projection_wanted)
    return neck_reset_angle(lost, scale_length, join, compensation)


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


def rise_of_angle(
    neck_angle: float, scale_length: float, join: float, compensation: float
) -> float:
    """Return by how much the projection rises if the neck is turned back by an angle [mm].

    `y = D tan(theta)`: the way back from `neck_reset_angle`.

    Parameters
    ----------
    neck_angle
        Angle by which the neck is turned back [degree], -10 to 10.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Raises
    ------
    OutOfRange
        No neck is turned by more than 10 degrees.

    Source: geometry.

    >>> round(rise_of_angle(0.5, 648, 14, 2), 2)  # worked here
    2.54
    """
    within("neck_angle", neck_angle, -10, 10)
    return join_to_saddle(scale_length, join, compensation) * tan(radians(neck_angle))
