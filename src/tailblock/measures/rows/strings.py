"""Rows of the table of figures: pitch, strings and sets."""

from __future__ import annotations

from tailblock.measures import pitch, set_change, set_tension, strings
from tailblock.measures.rows.row import COMMON_PRACTICE, row

STRETCHED_STRING = "law of the stretched string (Mersenne), in any text on acoustics"
TEMPERAMENT = "equal temperament"
SET = f"{STRETCHED_STRING}; gauges and cores {COMMON_PRACTICE}"
_MATERIALS = "steel_density wrap_density core_fill closeness"

ROWS = (
    row(
        strings.string_tension,
        "scale_length frequency mass_per_length",
        "mu (2 L f)^2",
        STRETCHED_STRING,
        result="force",
    ),
    row(
        strings.lowered_tension,
        "tension semitones_lower",
        "T 2^(-2n/12)",
        f"{STRETCHED_STRING}; {TEMPERAMENT}",
        result="force",
    ),
    row(
        strings.plain_mass_per_length,
        "diameter string_density",
        "rho pi d^2 / 4",
        "geometry",
        result="mass per length",
    ),
    row(
        strings.wound_mass_per_length,
        "core_diameter wrap_diameter core_density wrap_density core_fill closeness",
        "rho_c q d^2 + rho_w (pi w^2 / 4) sqrt(1 + (pi (d + w) c / w)^2)",
        "geometry; the constants from memory, their uncertainty judged",
        result="mass per length",
    ),
    row(
        set_tension.six_string_tension,
        f"first_gauge scale_length semitones_lower {_MATERIALS} set_factor",
        "set factor times the sum of mu (2 L f)^2 over the set",
        SET,
        result="force",
    ),
    row(
        set_tension.twelve_string_tension,
        f"first_gauge scale_length semitones_lower {_MATERIALS} set_factor",
        "set factor times the sum of mu (2 L f)^2 over the set",
        SET,
        result="force",
    ),
    row(
        set_tension.nylon_tension,
        "treble_gauge scale_length semitones_lower nylon_density nylon_stretch closeness "
        "set_factor",
        "set factor times the sum of mu (2 L f)^2 over the set",
        SET,
        result="force",
    ),
    row(
        set_change.tension_saved,
        "first_gauge first_gauge_after scale_length semitones_lower semitones_lower_after "
        f"{_MATERIALS} set_factor",
        "T(before) - T(after), each the factor times the sum of mu (2 L f)^2 over the set",
        SET,
        result="force",
    ),
    row(
        set_change.tension_ratio,
        f"first_gauge first_gauge_after semitones_lower semitones_lower_after {_MATERIALS}",
        "T(after) / T(before), each the sum of mu (2 L f)^2 over the set",
        SET,
        result="count",
    ),
    row(
        pitch.equal_tempered_frequency,
        "semitones reference_pitch",
        "A 2^(n/12), n semitones above the A of the reference pitch",
        f"{TEMPERAMENT}; ISO 16:1975 for 440 Hz",
        result="frequency",
    ),
    row(
        pitch.lowered_frequency,
        "frequency semitones_lower",
        "f 2^(-n/12)",
        TEMPERAMENT,
        result="frequency",
    ),
    row(
        pitch.cents_between,
        "frequency_before frequency_after",
        "1200 log2(f after / f before)",
        "definition of the cent",
        result="cents",
    ),
)
