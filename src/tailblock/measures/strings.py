"""Strings: tension and intonation.

In: scale length [mm], frequency [Hz], mass per length [g/m]. Out: force [N], pitch [cents].
"""

from __future__ import annotations

from math import log

from tailblock.measures.frets import fret_position


def string_tension(scale_length: float, frequency: float, mass_per_length: float) -> float:
    """Return the tension of a string at a pitch [N].

    `T = mu (2 L f)^2`. Stiffness is left out; real sets differ from their tables by up to 10 %.

    Parameters
    ----------
    scale_length
        Vibrating length [mm].
    frequency
        Of the open string [Hz].
    mass_per_length
        [g/m]

    Source: law of the stretched string (Mersenne), in any text on acoustics.

    >>> round(string_tension(810, 394, 2 / 0.81), 1)  # from a published exercise: 1005.9 N
    1005.9
    """
    return mass_per_length / 1000 * (2 * scale_length / 1000 * frequency) ** 2


def cents_per_mm(scale_length: float, fret: float) -> float:
    """Return by how much a fretted note moves against the retuned open string [cents].

    `-(1200 / ln 2) (2^(n/12) - 1) / L` for each mm that the saddle moves back: farther back is
    flatter. A first-order figure, good for a few mm.

    Parameters
    ----------
    scale_length
        [mm]
    fret
        Number of the fret [1].

    Source: derived from the definition of the cent (1200 to the octave).

    >>> round(cents_per_mm(648, 12), 1)  # worked here
    -2.7
    """
    stopped = scale_length - fret_position(scale_length, fret)
    return -1200 / log(2) * (1 / stopped - 1 / scale_length)
