"""Rows of the table of figures: pitch, strings and sets."""

from __future__ import annotations

from tailblock.measures import pitch, set_change, set_tension, strings
from tailblock.measures.rows.row import COMMON_PRACTICE, row
from tailblock.measures.rows.shared_steps import STEEL, set_steps

STRETCHED_STRING = "law of the stretched string (Mersenne), in any text on acoustics"
TEMPERAMENT = "equal temperament"
SET = f"{STRETCHED_STRING}; gauges and cores {COMMON_PRACTICE}"
_MATERIALS = "steel_density wrap_density core_fill closeness"

ROWS = (
    row(
        strings.string_tension,
        "scale_length frequency mass_per_length",
        "mass_per_length / 1000 * (2 * scale_length / 1000 * frequency)**2",
        STRETCHED_STRING,
        result="force",
    ),
    row(
        strings.lowered_tension,
        "tension semitones_lower",
        "tension * 2**(-2 * semitones_lower / 12)",
        f"{STRETCHED_STRING}; {TEMPERAMENT}",
        result="force",
    ),
    row(
        strings.plain_mass_per_length,
        "diameter string_density",
        "string_density * pi * diameter**2 / 4000",
        "geometry",
        result="mass per length",
    ),
    row(
        strings.wound_mass_per_length,
        "core_diameter wrap_diameter core_density wrap_density core_fill closeness",
        (
            "core + winding; core = core_density * core_fill * core_diameter**2 / 1000; "
            "winding = wrap_density * pi * wrap_diameter**2 / 4000 * sqrt(1 + turns**2); "
            "turns = pi * (core_diameter + wrap_diameter) * closeness / wrap_diameter"
        ),
        "geometry; the constants from memory, their uncertainty judged",
        result="mass per length",
    ),
    row(
        set_tension.six_string_tension,
        f"first_gauge scale_length semitones_lower {_MATERIALS} set_factor",
        set_steps(f"six_string_mass(string={{}}, first_gauge=first_gauge, {STEEL})"),
        SET,
        result="force",
    ),
    row(
        set_tension.twelve_string_tension,
        f"first_gauge scale_length semitones_lower {_MATERIALS} set_factor",
        set_steps(
            f"twelve_string_mass(string={{}}, first_gauge=first_gauge, {STEEL})", octaves=True
        ),
        SET,
        result="force",
    ),
    row(
        set_tension.nylon_tension,
        "treble_gauge scale_length semitones_lower nylon_density nylon_stretch closeness "
        "set_factor",
        set_steps(
            "nylon_mass(string={}, treble_gauge=treble_gauge, nylon_density=nylon_density, "
            "nylon_stretch=nylon_stretch, closeness=closeness)"
        ),
        SET,
        result="force",
    ),
    row(
        set_change.tension_saved,
        "first_gauge first_gauge_after scale_length semitones_lower semitones_lower_after "
        f"{_MATERIALS} set_factor",
        (
            "T_before - T_after; T_before = six_string_tension(first_gauge=first_gauge, "
            f"scale_length=scale_length, semitones_lower=semitones_lower, {STEEL}, "
            "set_factor=set_factor); "
            "T_after = six_string_tension(first_gauge=first_gauge_after, "
            f"scale_length=scale_length, semitones_lower=semitones_lower_after, {STEEL}, "
            "set_factor=set_factor)"
        ),
        SET,
        result="force",
    ),
    row(
        set_change.tension_ratio,
        f"first_gauge first_gauge_after semitones_lower semitones_lower_after {_MATERIALS}",
        (
            "T_after / T_before; T_before = six_string_tension(first_gauge=first_gauge, "
            f"scale_length=648, semitones_lower=semitones_lower, {STEEL}, set_factor=1); "
            "T_after = six_string_tension(first_gauge=first_gauge_after, scale_length=648, "
            f"semitones_lower=semitones_lower_after, {STEEL}, set_factor=1)"
        ),
        SET,
        result="count",
    ),
    row(
        pitch.equal_tempered_frequency,
        "semitones reference_pitch",
        "reference_pitch * 2**(semitones / 12)",
        f"{TEMPERAMENT}; ISO 16:1975 for 440 Hz",
        result="frequency",
    ),
    row(
        pitch.lowered_frequency,
        "frequency semitones_lower",
        "frequency * 2**(-semitones_lower / 12)",
        TEMPERAMENT,
        result="frequency",
    ),
    row(
        pitch.cents_between,
        "frequency_before frequency_after",
        "1200 * log2(frequency_after / frequency_before)",
        "definition of the cent",
        result="cents",
    ),
)
