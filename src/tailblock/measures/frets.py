"""Where the frets lie, and how much of them is left.

In: scale length, heights and widths [mm], fret numbers. Out: distances and heights [mm].
"""

from __future__ import annotations

from math import sqrt

from tailblock.measures.limits import within


def fret_position(scale_length: float, fret: float) -> float:
    """Return the distance from the nut to a fret [mm].

    `x = L (1 - 2^(-n/12))`, twelve equal semitones to the octave. Compensation is left out: it
    belongs to the saddle.

    Parameters
    ----------
    scale_length
        Nut to saddle without compensation [mm].
    fret
        Number of the fret [1], 0 to 36.

    Source: equal temperament, ratio 2^(1/12).

    >>> round(fret_position(650, 14), 3)  # worked here
    360.458
    """
    within("fret", fret, 0, 36)
    return scale_length * (1 - 2 ** (-fret / 12))


def join_to_saddle(scale_length: float, join: float, compensation: float) -> float:
    """Return the distance from the fret at the body to the saddle [mm].

    `D = L + c - x_join`.

    Parameters
    ----------
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].
    join
        Fret at which neck and body meet [1].

    Source: geometry.

    >>> round(join_to_saddle(648, 14, 2), 1)  # worked here
    290.7
    """
    return scale_length + compensation - fret_position(scale_length, join)


def fret_height_left(fret_height: float, groove: float) -> float:
    """Return what is left of a fret over the board under its deepest groove [mm].

    `h - g`.

    Parameters
    ----------
    fret_height
        Crown over the board beside the groove [mm], 0 to 3.
    groove
        Depth of the groove [mm], 0 to 3.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry.

    >>> round(fret_height_left(1.05, 0.25), 6)  # worked here
    0.8
    """
    within("fret_height", fret_height, 0, 3)
    within("groove", groove, 0, 3)
    return fret_height - groove


def height_after_dressing(
    fret_height: float, groove: float, unevenness: float, dressing_allowance: float
) -> float:
    """Return how high the lowest fret stands after a level and crown [mm].

    `h - g - u - a`: all crowns come down to the bottom of the deepest groove, by what the lowest of
    them lies under the line of the others, and by what crowning and polishing take (0.05 +- 0.02).
    A fret that is high and loose is seated first, not filed.

    Parameters
    ----------
    fret_height
        Crown of the lowest fret over the board, beside its groove [mm], 0 to 3.
    groove
        Depth of the deepest groove [mm], 0 to 3.
    unevenness
        How far that fret must still come down to meet the line of the lowest [mm], 0 to 1.
    dressing_allowance
        Taken by crowning and polishing [mm], 0 to 0.5.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry; the allowance from memory: a whole dressing takes 0.1 to 0.2 mm.

    >>> round(height_after_dressing(1.05, 0.15, 0.03, 0.05), 6)  # worked here
    0.82
    """
    within("unevenness", unevenness, 0, 1)
    within("dressing_allowance", dressing_allowance, 0, 0.5)
    return fret_height_left(fret_height, groove) - unevenness - dressing_allowance


def dressing_margin(
    fret_height: float,
    groove: float,
    unevenness: float,
    dressing_allowance: float,
    fret_height_wanted: float,
) -> float:
    """Return what a level and crown leaves above the least height wanted [mm].

    `height after dressing - h_wanted`: negative says that new frets are due. Opinion on the least
    height differs, from 0.70 on a quiet acoustic to 1.02 for the least of new wire.

    Parameters
    ----------
    fret_height, groove, unevenness, dressing_allowance
        As in `height_after_dressing`.
    fret_height_wanted
        Least height wanted over the board [mm]; 0.75 if nothing else is said.

    Raises
    ------
    OutOfRange
        As in `height_after_dressing`.

    Source: geometry; the least height is common practice, no source.

    >>> round(dressing_margin(0.90, 0.15, 0.03, 0.05, 0.75), 6)  # worked here
    -0.08
    """
    left = height_after_dressing(fret_height, groove, unevenness, dressing_allowance)
    return left - fret_height_wanted


def crown_flat(crown_width: float, crown_height: float, taken: float) -> float:
    """Return how wide the flat is that levelling leaves on a fret, before it is crowned [mm].

    `2 sqrt(2 r t - t^2)`, `r = h/2 + w^2/(8 h)`: the chord at depth t of a crown that is an arc of
    a circle. A flat of more than about a third of the width asks for a crowning file (common
    practice, no source).

    Parameters
    ----------
    crown_width, crown_height
        Width of the wire and height of its bead [mm], above 0, the width at least twice the height.
    taken
        Taken off the top [mm], 0 to the height.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: plane geometry.

    >>> round(crown_flat(2.0, 1.0, 0.1), 3)  # worked here: half a circle, r = 1
    0.872
    """
    within("crown_height", crown_height, 0.05, 3)
    within("crown_width", crown_width, 2 * crown_height, 6)
    within("taken", taken, 0, crown_height)
    radius = crown_height / 2 + crown_width**2 / (8 * crown_height)
    return 2 * sqrt(2 * radius * taken - taken**2)
