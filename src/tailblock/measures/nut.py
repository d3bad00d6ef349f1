"""The nut: where its slots stand over the line of the fret crowns.

In: heights [mm], fret numbers. Out: heights and depths [mm]. The line of the crowns is taken as
straight from the nut to the frets named; relief near the nut is some hundredths and is left out.
"""

from __future__ import annotations

from math import inf

from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


def nut_slot_height(gap_at_first: float) -> float:
    """Return how high a nut slot's floor stands over the line of the fret crowns [mm].

    `n = gap / (1 - x1/x2)`, read with the string pressed down between frets 2 and 3: it then runs
    straight from the slot to the crown of fret 2, and at fret 1 half of the slot's height is left
    (0.486 of it, whatever the scale). Zero would be a nut that plays like a fret.

    Parameters
    ----------
    gap_at_first
        String over fret 1 while it is pressed between frets 2 and 3 [mm], 0 to 3.

    Raises
    ------
    OutOfRange
        A gap outside this range.

    Source: geometry of equal temperament.

    >>> round(nut_slot_height(0.10), 3)  # worked here
    0.206
    """
    within("gap_at_first", gap_at_first, 0, 3)
    return gap_at_first / (1 - fret_position(1, 1) / fret_position(1, 2))


def first_opening_from_slot(
    slot_height: float, saddle_height: float, scale_length: float, compensation: float
) -> float:
    """Return how high the open string passes over fret 1 [mm].

    `g = n + (s - n) x1 / (L + c)`: straight from the slot's floor to the saddle.

    Parameters
    ----------
    slot_height
        Floor of the nut slot over the line of the crowns, see `nut_slot_height` [mm], 0 to 3.
    saddle_height
        Crown of the saddle over the same line drawn on to it: exposure less projection [mm],
        -2 to 20.
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Raises
    ------
    OutOfRange
        A height outside these ranges.

    Source: geometry.

    >>> round(first_opening_from_slot(0.21, 3.65, 648, 2), 3)  # worked here
    0.402
    """
    within("slot_height", slot_height, 0, 3)
    within("saddle_height", saddle_height, -2, 20)
    first = fret_position(scale_length, 1)
    return slot_height + (saddle_height - slot_height) * first / (scale_length + compensation)


def nut_slot_lowering(gap_at_first: float, gap_wanted: float) -> float:
    """Return how much to take off the floor of a nut slot [mm].

    `(gap - gap_wanted) / (1 - x1/x2)`: about twice what the gap at fret 1 is to lose. Negative
    says that the slot is too low already: fill it or make a new nut. File in small steps; what is
    taken does not come back.

    Parameters
    ----------
    gap_at_first, gap_wanted
        String over fret 1, pressed between frets 2 and 3, now and as wanted [mm], 0 to 3.

    Raises
    ------
    OutOfRange
        A gap outside this range.

    Source: geometry of equal temperament.

    >>> round(nut_slot_lowering(0.30, 0.12), 2)  # worked here
    0.37
    """
    return nut_slot_height(gap_at_first) - nut_slot_height(gap_wanted)


def nut_slot_floor(fret_height: float, gap_wanted: float) -> float:
    """Return how high over the board the floor of a nut slot is to lie [mm].

    `h + n`, n by `nut_slot_height`: a stack of feeler leaves this thick on the board stops the
    file in time. It holds where frets 1 and 2 are level.

    Parameters
    ----------
    fret_height
        Crown of frets 1 and 2 over the board [mm], 0 to 3.
    gap_wanted
        String over fret 1, pressed between frets 2 and 3, as wanted [mm], 0 to 3.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry; the stack of leaves is common practice, no source.

    >>> round(nut_slot_floor(1.0, 0.12), 2)  # worked here
    1.25
    """
    within("fret_height", fret_height, 0, 3)
    return fret_height + nut_slot_height(gap_wanted)


def nut_slot_share(nut_height: float, slot_floor: float, string_diameter: float) -> float:
    """Return how deep a string lies in its nut slot, in parts of its diameter [1].

    `(nut - floor) / d`. A wound string lies in by half, a plain one by all of its diameter; a
    deeper slot pinches and is dressed down from above (common practice, no source).

    Parameters
    ----------
    nut_height, slot_floor
        Top of the nut at the slot, and floor of the slot, over the board [mm]; the floor is not
        higher than the top.
    string_diameter
        [mm], 0.1 to 5.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry.

    >>> round(nut_slot_share(2.0, 1.3, 1.4), 6)  # worked here
    0.5
    """
    within("nut_height", nut_height, slot_floor, inf)
    within("string_diameter", string_diameter, 0.1, 5)
    return (nut_height - slot_floor) / string_diameter
