"""Where the frets lie.

In: scale length [mm] and fret numbers. Out: distances [mm].
"""

from __future__ import annotations

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
