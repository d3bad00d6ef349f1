"""Notes, equal temperament and the cent, against ISO 16 and definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.errors import TailblockError
from tailblock.measures.limits import OutOfRange
from tailblock.measures.pitch import (
    STANDARD_PITCH,
    NotANote,
    cents_between,
    equal_tempered_frequency,
    lowered_frequency,
    note_frequency,
    semitones_from_a4,
)


def test_the_standard_tuning_frequency() -> None:
    assert STANDARD_PITCH == 440  # ISO 16:1975
    assert note_frequency("A4") == 440


@pytest.mark.parametrize(
    ("note", "hertz"),
    # open strings of six and twelve; published tables to 0.01 Hz, the third decimal worked here
    [
        ("E2", 82.407), ("A2", 110.000), ("D3", 146.832), ("G3", 195.998), ("B3", 246.942),
        ("E4", 329.628), ("E3", 164.814), ("A3", 220.000), ("D4", 293.665), ("G4", 391.995),
        ("D2", 73.416),
    ],
)  # fmt: skip
def test_open_strings(note: str, hertz: float) -> None:
    assert note_frequency(note) == pytest.approx(hertz, abs=0.0006)


@pytest.mark.parametrize(
    ("note", "same"),
    [("F#3", "Gb3"), ("f♯3", "G♭3"), ("B3", "Cb4"), ("C4", "B#3"), ("D4", "C##4"), ("A3", "Bbb3"),
     (" E 2 ", "E2")],
)  # fmt: skip
def test_one_key_has_more_than_one_name(note: str, same: str) -> None:
    assert semitones_from_a4(note) == semitones_from_a4(same)


@pytest.mark.parametrize("text", ["", "E", "H2", "E22", "E#b2", "E-2", "82 Hz", "E" * 500])
def test_what_is_no_note_says_so(text: str) -> None:
    with pytest.raises(NotANote, match="is not a note with its octave; write it like E2") as caught:
        note_frequency(text)
    assert isinstance(caught.value, TailblockError)
    assert len(str(caught.value)) < 100


@pytest.mark.parametrize(
    ("before", "after", "cents"),
    [
        (440, 880, 1200),  # definition of the cent
        (2, 3, 701.955),  # pure fifth, from the definition
        (440, 441, 3.930),  # worked here, as the next two
        (440, 432, -31.767),
        (440, 440.5, 1.966),
    ],
)
def test_cents(before: float, after: float, cents: float) -> None:
    assert cents_between(before, after) == pytest.approx(cents, abs=0.0006)


def test_another_reference_pitch_moves_every_note_alike() -> None:
    """Pitches in use for old music: 415 Hz lies almost exactly a semitone below 440."""
    for note in ("E2", "B3", "E4"):
        moved = cents_between(note_frequency(note), note_frequency(note, 415))
        assert moved == pytest.approx(-101.27, abs=0.01)  # worked here: 1200 log2(415/440)


@given(st.integers(-60, 60), st.floats(400, 480))
def test_a_semitone_is_a_hundred_cents(semitones: int, reference: float) -> None:
    low, high = (equal_tempered_frequency(n, reference) for n in (semitones, semitones + 1))
    assert cents_between(low, high) == pytest.approx(100)


@given(st.floats(20, 1000), st.floats(-24, 24))
def test_tuning_down_and_up_again(frequency: float, lowered: float) -> None:
    there = lowered_frequency(frequency, lowered)
    assert cents_between(frequency, there) == pytest.approx(-100 * lowered, abs=1e-9)
    assert lowered_frequency(there, -lowered) == pytest.approx(frequency)


def test_limits() -> None:
    with pytest.raises(OutOfRange, match="reference pitch is 44; the formula holds from 400 to"):
        equal_tempered_frequency(0, 44)
    with pytest.raises(OutOfRange, match="semitones lower is 25"):
        lowered_frequency(440, 25)
    with pytest.raises(OutOfRange, match="frequency after is 0"):
        cents_between(440, 0)
