"""The neck against a straightedge: where a fret lies under it, and a string over it.

In: relief, heights over the straightedge and places from the nut [mm], fret numbers. Out: heights
[mm]. The straightedge rests on fret 1 and the fret at the body.
"""

from __future__ import annotations

from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


def fret_drop(relief: float, scale_length: float, join: int, fret: float) -> float:
    """Return how far a fret lies under the straightedge [mm].

    `4 r u (1 - u)`, `u = (x_n - x_1)/(x_join - x_1)`: a parabola, which is an even bow as long as
    the relief is small against the length of the neck. At fret 12 of 14 it leaves 0.39 of the
    relief; real necks leave 0.26 to 0.41.

    Parameters
    ----------
    relief
        Largest gap under the straightedge [mm]; below zero if the neck bows backward.
    scale_length
        Nut to saddle without compensation [mm].
    join
        Fret at which neck and body meet [1], 2 to 36.
    fret
        Number of the fret [1], 1 to the join.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: plane geometry.

    >>> round(fret_drop(0.2, 648, 14, 12), 4)  # worked here: u = 0.8906
    0.078
    """
    within("join", join, 2, 36)
    within("fret", fret, 1, join)
    first, last = fret_position(scale_length, 1), fret_position(scale_length, join)
    share = (fret_position(scale_length, fret) - first) / (last - first)
    return 4 * relief * share * (1 - share)


def along(first: tuple[float, float], second: tuple[float, float], place: float) -> float:
    """Return the height of a straight line through two points at a place [mm].

    `h_1 + (h_2 - h_1)(x - x_1)/(x_2 - x_1)`: a string, or the straightedge itself.

    Parameters
    ----------
    first, second
        Place and height of the two points [mm], not at one place.
    place
        Where the height is wanted [mm].

    Source: plane geometry.

    >>> along((0, 1), (10, 2), 20)  # worked here
    3.0
    """
    (x1, h1), (x2, h2) = first, second
    return h1 + (h2 - h1) * (place - x1) / (x2 - x1)
