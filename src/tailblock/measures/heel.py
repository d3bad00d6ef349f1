"""A neck reset in wood: what comes off the heel, and what the board then needs.

In: projection to be gained, sizes of heel and tongue [mm]. Out: lengths [mm], strokes [1]. All
angles of a reset are small (under two degrees), so arcs are taken as straight.
"""

from __future__ import annotations

from math import inf

from tailblock.measures.frets import join_to_saddle
from tailblock.measures.limits import within
from tailblock.measures.saddle import share_at_fret_12


def reset_rise(
    action: float,
    action_wanted: float,
    exposure: float,
    exposure_wanted: float,
    *,
    scale_length: float,
    compensation: float,
) -> float:
    """Return the projection that a reset must gain to give both an action and a saddle [mm].

    `y = (a - a_wanted)/k + (E_wanted - E)`: about twice the drop of the action, and all that the
    saddle is to grow. Nut and relief stay as they are.

    Parameters
    ----------
    action, action_wanted
        Action at fret 12 now, and as wanted [mm].
    exposure, exposure_wanted
        Saddle crown over the bridge top now, and as wanted [mm].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Source: geometry.

    >>> size = {"scale_length": 648, "compensation": 2}
    >>> round(reset_rise(2.72, 2.0, 1.6, 3.6, **size), 2)  # worked here
    3.54
    """
    drop = (action - action_wanted) / share_at_fret_12(scale_length, compensation)
    return drop + exposure_wanted - exposure


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


def heel_top_cut(
    rise: float, board_height: float, scale_length: float, join: float, compensation: float
) -> float:
    """Return the wood to take at the top of the heel so that the frets stay where they are [mm].

    `t = y b / D`: the neck then turns about the crown of the fret at the join instead of about the
    edge below it. Left on, it moves every fret of the neck away from the saddle by as much, which
    is less than a tenth on most necks; taken, it comes off the whole cheek and adds to `heel_cut`.

    Parameters
    ----------
    rise
        Projection to be gained at the saddle [mm].
    board_height
        Crown of the fret at the join over the top edge of the joint [mm], not negative.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(heel_top_cut(3.53, 7.5, 648, 14, 2), 3)  # worked here
    0.091
    """
    within("board_height", board_height, 0, inf)
    return rise * board_height / join_to_saddle(scale_length, join, compensation)


def cheek_taper(cut_at_top: float, cut_at_cap: float, heel_height: float, depth: float) -> float:
    """Return the wood to take off the cheek at a depth, to mark the taper along it [mm].

    `t = t_top + (t_cap - t_top) z / h`: a straight taper.

    Parameters
    ----------
    cut_at_top, cut_at_cap
        Wood to take at the top edge of the joint and at the heel cap [mm].
    heel_height
        Top edge of the joint to the heel cap [mm], at least 1.
    depth
        Below the top edge of the joint [mm], 0 to the height of the heel.

    Raises
    ------
    OutOfRange
        The depth lies outside the heel.

    Source: geometry.

    >>> round(cheek_taper(0, 1.03, 85, 42.5), 3)  # worked here
    0.515
    """
    within("heel_height", heel_height, 1, inf)
    within("depth", depth, 0, heel_height)
    return cut_at_top + (cut_at_cap - cut_at_top) * depth / heel_height


def rise_of_cut(
    cut: float, heel_height: float, scale_length: float, join: float, compensation: float
) -> float:
    """Return the projection that the wood taken at the heel cap so far has gained [mm].

    `y = t D / h`: the way back from `heel_cut`, to check every few strokes. A shim at the heel cap
    is a negative cut: it tips the neck forward.

    Parameters
    ----------
    cut
        Wood taken off the cheek at the heel cap, nothing at the top [mm].
    heel_height
        Top edge of the joint to the heel cap [mm], at least 1.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(rise_of_cut(0.5, 85, 648, 14, 2), 2)  # worked here
    1.71
    """
    within("heel_height", heel_height, 1, inf)
    return cut * join_to_saddle(scale_length, join, compensation) / heel_height


def abrasive_strokes(cut: float, wood_per_stroke: float) -> float:
    """Return how many strokes with a strip of abrasive take this wood off a cheek [1].

    `n = t / w` for each side, the strip pulled out from between cheek and body at the heel cap.
    What one stroke takes differs by half and more with grit, wood and pressure: measure the first
    ten on the heel itself and give what they took.

    Parameters
    ----------
    cut
        Wood to take at the heel cap [mm], not negative.
    wood_per_stroke
        Wood that one stroke takes there [mm], at least 0.001.

    Source: common practice, no source; 0.02 mm a stroke of coarse paper is from memory.

    >>> round(abrasive_strokes(0.6, 0.02), 6)  # worked here
    30.0
    """
    within("cut", cut, 0, inf)
    within("wood_per_stroke", wood_per_stroke, 0.001, inf)
    return cut / wood_per_stroke


def side_swing(
    bass: float,
    treble: float,
    heel_width: float,
    *,
    scale_length: float,
    join: float,
    compensation: float,
) -> float:
    """Return how far uneven cheeks swing the neck's centre line at the saddle, to the bass [mm].

    `(t_treble - t_bass) D / w`: the head swings to the side that lost more wood, the line of the
    strings at the saddle to the other. Negative is to the treble.

    Parameters
    ----------
    bass, treble
        Wood taken off either cheek, at one depth [mm].
    heel_width
        Distance between the cheeks' outer edges at that depth [mm], at least 1.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> size = {"scale_length": 648, "join": 14, "compensation": 2}
    >>> round(side_swing(0.5, 0.7, 56, **size), 2)  # worked here
    1.04
    """
    within("heel_width", heel_width, 1, inf)
    return (treble - bass) * join_to_saddle(scale_length, join, compensation) / heel_width


def tongue_wedge(
    rise: float, tongue_length: float, scale_length: float, join: float, compensation: float
) -> float:
    """Return the wedge under the end of the fingerboard extension after a reset [mm].

    `w = y e / D` at the soundhole end, running out to nothing at the join: turned back, the neck
    lifts the extension off the top by that much. Glued down without a wedge, the board falls away
    over the body by as much.

    Parameters
    ----------
    rise
        Projection gained at the saddle [mm].
    tongue_length
        From the join to the end of the fingerboard [mm], not negative.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(tongue_wedge(3.0, 90, 648, 14, 2), 2)  # worked here
    0.93
    """
    within("tongue_length", tongue_length, 0, inf)
    return rise * tongue_length / join_to_saddle(scale_length, join, compensation)
