"""Pitch: notes, equal temperament and the cent.

In: note names, semitones [1], a reference pitch [Hz]. Out: frequencies [Hz], differences in pitch
[cents].
"""

from __future__ import annotations

import re
from math import inf, log2

from tailblock.errors import TailblockError
from tailblock.measures.limits import within

STANDARD_PITCH = 440.0  # Hz, the A above middle C: ISO 16:1975

_NOTE = re.compile(r"([A-Ga-g])\s*(#{1,2}|♯|b{1,2}|♭)?\s*(-1|\d)", re.ASCII)
_STEPS = {"C": -9, "D": -7, "E": -5, "F": -4, "G": -2, "A": 0, "B": 2}  # semitones from A
_RAISES = {"": 0, "#": 1, "##": 2, "♯": 1, "b": -1, "bb": -2, "♭": -1}


def is_note(text: str) -> bool:
    """Return whether a text names a note with its octave.

    >>> is_note("Bb3"), is_note("110 Hz")
    (True, False)
    """
    return _NOTE.fullmatch(text.strip()) is not None


class NotANote(TailblockError, ValueError):
    """A text that names no note."""

    def __init__(self, given: str) -> None:
        self.given = given
        shown = given[:20]
        super().__init__(f"{shown!r} is not a note with its octave; write it like E2, F#3 or Bb3")


def semitones_from_a4(note: str) -> int:
    """Return how many semitones a note lies above the A of the reference pitch [1].

    The note is a letter, `#` or `b` if it is raised or lowered, and the number of its octave, which
    begins at C: A4 is the reference, C4 middle C, and E2 the lowest string of a six-string.

    Parameters
    ----------
    note
        Such as `E2`, `F#3`, `Bb3`.

    Raises
    ------
    NotANote
        The text is none.

    Source: scientific pitch notation, in any text on acoustics (from memory).

    >>> semitones_from_a4("A4"), semitones_from_a4("C4"), semitones_from_a4("E2")  # worked here
    (0, -9, -29)
    """
    found = _NOTE.fullmatch(note.strip())
    if found is None:
        raise NotANote(note)
    letter, raised, octave = found[1].upper(), found[2] or "", int(found[3])
    return _STEPS[letter] + _RAISES[raised] + 12 * (octave - 4)


def note_frequency(note: str, reference_pitch: float = STANDARD_PITCH) -> float:
    """Return the frequency of a note by name [Hz].

    As `equal_tempered_frequency`, with the semitones that the name says.

    Parameters
    ----------
    note
        Such as `E2`, `F#3`, `Bb3`.
    reference_pitch
        Of the A above middle C [Hz].

    Raises
    ------
    NotANote
        The text is none.

    Source: equal temperament; ISO 16:1975 for 440 Hz.

    >>> round(note_frequency("E2"), 3)  # from a published table: 82.41
    82.407
    """
    return equal_tempered_frequency(semitones_from_a4(note), reference_pitch)


def equal_tempered_frequency(semitones: float, reference_pitch: float) -> float:
    """Return the frequency of a note of equal temperament [Hz].

    `f = A 2^(n/12)`. A stiff string's overtones lie sharper than whole multiples; the fundamental
    is meant here.

    Parameters
    ----------
    semitones
        From the A above middle C, negative below it [1], -120 to 120.
    reference_pitch
        Of that A [Hz], 400 to 480.

    Raises
    ------
    OutOfRange
        Semitones or reference pitch outside these ranges.

    Source: equal temperament, ratio 2^(1/12); ISO 16:1975 for 440 Hz.

    >>> round(equal_tempered_frequency(-29, 440), 3)  # from a published table: 82.41
    82.407
    """
    within("semitones", semitones, -120, 120)
    within("reference_pitch", reference_pitch, 400, 480)
    return float(reference_pitch * 2 ** (semitones / 12))


def lowered_frequency(frequency: float, semitones_lower: float) -> float:
    """Return the frequency of a string tuned lower by some semitones [Hz].

    `f 2^(-n/12)`.

    Parameters
    ----------
    frequency
        Before [Hz].
    semitones_lower
        Semitones lower, negative for higher [1], -24 to 24.

    Raises
    ------
    OutOfRange
        More than two octaves.

    Source: equal temperament, ratio 2^(1/12).

    >>> round(lowered_frequency(82.407, 2), 3)  # from a published table: D2 is 73.42 Hz
    73.416
    """
    within("semitones_lower", semitones_lower, -24, 24)
    return float(frequency * 2 ** (-semitones_lower / 12))


def cents_between(frequency_before: float, frequency_after: float) -> float:
    """Return how much higher the second of two frequencies is [cents].

    `1200 log2(f_after / f_before)`.

    Parameters
    ----------
    frequency_before, frequency_after
        [Hz], above zero.

    Raises
    ------
    OutOfRange
        A frequency that is not above zero.

    Source: definition of the cent, 1200 to the octave (Ellis, 1885; the attribution from memory).

    >>> round(cents_between(2, 3), 3)  # from the definition: a pure fifth
    701.955
    """
    within("frequency_before", frequency_before, 1e-9, inf)
    within("frequency_after", frequency_after, 1e-9, inf)
    return 1200 * log2(frequency_after / frequency_before)
