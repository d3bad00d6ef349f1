"""Intonation: how far a fretted note is off when saddle, nut or fret stand elsewhere.

In: scale length and offsets [mm], fret numbers [1]. Out: pitch of the fretted note against the open
string, which is always tuned true [cents, sharp is positive], and offsets [mm]. What pressing the
string down adds is in `stretching`.
"""

from __future__ import annotations

from math import log, log2

from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


def cents_per_mm(scale_length: float, fret: float) -> float:
    """Return by how much a fretted note moves against the retuned open string [cents].

    `-(1200 / ln 2) (2^(n/12) - 1) / L` for each mm that the saddle moves back: farther back is
    flatter. A first-order figure, good for a few mm; `saddle_offset_cents` is exact.

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


def saddle_offset_cents(saddle_offset: float, scale_length: float, fret: float) -> float:
    """Return how far a fretted note is off because the saddle is [cents].

    `1200 log2((L + x) l / (L (l + x)))`, l = L 2^(-n/12) what is left of the scale at the fret: a
    saddle too far back plays flat, and twice as many frets up more than twice as much.

    Parameters
    ----------
    saddle_offset
        How far the saddle stands behind the place that this string needs [mm], -20 to 20.
    scale_length
        [mm], 200 to 1000.
    fret
        Number of the fret [1], 0 to 36.

    Raises
    ------
    OutOfRange
        An offset, a scale length or a fret outside these ranges.

    Source: derived from the definition of the cent.

    >>> round(saddle_offset_cents(1, 648, 12), 2)  # worked here
    -2.66
    """
    stopped = _stopped(scale_length, fret)
    within("saddle_offset", saddle_offset, -20, 20)
    return 1200 * log2(
        (scale_length + saddle_offset) * stopped / (scale_length * (stopped + saddle_offset))
    )


def saddle_move_for_cents(sharp: float, scale_length: float, fret: float) -> float:
    """Return how far back the saddle must move to bring a sharp note in tune [mm].

    `x = L l (r - 1) / (L - r l)`, r = 2^(sharp/1200), l = L 2^(-n/12): negative for a flat note,
    which asks for a saddle nearer to the nut.

    Parameters
    ----------
    sharp
        Fretted note above its harmonic or above the tuner's note, the open string true [cents],
        -50 to 50.
    scale_length
        [mm], 200 to 1000.
    fret
        Number of the fret [1], 5 to 24; nearer the nut a saddle hardly tells.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: derived from the definition of the cent.

    >>> round(saddle_move_for_cents(8, 648, 12), 2)  # worked here: about 8 / 2.67
    3.02
    """
    within("sharp", sharp, -50, 50)
    within("fret", fret, 5, 24)
    stopped = _stopped(scale_length, fret)
    ratio = 2 ** (sharp / 1200)
    return float(scale_length * stopped * (ratio - 1) / (scale_length - ratio * stopped))


def nut_offset_cents(nut_offset: float, scale_length: float) -> float:
    """Return how far every fretted note is off because the nut is [cents].

    `1200 log2((L - y) / L)`: the open string is shorter by y and tuned true, so all fretted notes
    are flatter by the same amount. That is how a nut moved forward makes up for sharp first frets.

    Parameters
    ----------
    nut_offset
        How far the front of the nut stands toward the saddle [mm], -5 to 5.
    scale_length
        [mm], 200 to 1000.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: derived from the definition of the cent.

    >>> round(nut_offset_cents(0.5, 648), 2)  # worked here
    -1.34
    """
    within("nut_offset", nut_offset, -5, 5)
    within("scale_length", scale_length, 200, 1000)
    return 1200 * log2((scale_length - nut_offset) / scale_length)


def fret_offset_cents(fret_offset: float, scale_length: float, fret: float) -> float:
    """Return how far one fretted note is off because its fret is [cents].

    `1200 log2(l / (l - e))`, l = L 2^(-n/12). The fret's crown counts, not its slot: a flat worn on
    a crown moves the point where the string leaves toward the saddle.

    Parameters
    ----------
    fret_offset
        How far the crown stands toward the saddle [mm], -5 to 5.
    scale_length
        [mm], 200 to 1000.
    fret
        Number of the fret [1], 1 to 36.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: derived from the definition of the cent.

    >>> round(fret_offset_cents(0.3, 648, 12), 2)  # worked here
    1.6
    """
    within("fret_offset", fret_offset, -5, 5)
    within("fret", fret, 1, 36)
    stopped = _stopped(scale_length, fret)
    return 1200 * log2(stopped / (stopped - fret_offset))


def _stopped(scale_length: float, fret: float) -> float:
    """Return what is left of the scale at a fret [mm]."""
    within("scale_length", scale_length, 200, 1000)
    return scale_length - fret_position(scale_length, fret)
