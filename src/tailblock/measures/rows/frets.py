"""Rows of the table of figures: frets, nut and intonation."""

from __future__ import annotations

from tailblock.measures import frets, intonation, nut, stretching
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

CENT = "derived from the definition of the cent"

ROWS = (
    row(frets.fret_position, "scale_length fret", "L (1 - 2^(-n/12))", "equal temperament"),
    row(frets.fret_height_left, "fret_height groove", "h - g", GEOMETRY),
    row(
        frets.height_after_dressing,
        "fret_height groove unevenness dressing_allowance",
        "h - g - u - a",
        f"{GEOMETRY}; the allowance {FROM_MEMORY}",
    ),
    row(
        frets.dressing_margin,
        "fret_height groove unevenness dressing_allowance fret_height_wanted",
        "h - g - u - a - h wanted",
        f"{GEOMETRY}; the least height {COMMON_PRACTICE}",
    ),
    row(
        frets.crown_flat,
        "crown_width crown_height taken",
        "2 sqrt(2 r t - t^2), r = h/2 + w^2/(8 h)",
        "plane geometry",
    ),
    row(
        nut.nut_slot_height,
        "gap_at_first",
        "gap / (1 - x1/x2)",
        "geometry of equal temperament",
    ),
    row(
        nut.first_opening_from_slot,
        "slot_height saddle_height scale_length compensation",
        "n + (s - n) x1 / (L + c)",
        GEOMETRY,
    ),
    row(
        nut.nut_slot_lowering,
        "gap_at_first gap_wanted",
        "(gap - gap wanted) / (1 - x1/x2)",
        "geometry of equal temperament",
    ),
    row(
        nut.nut_slot_floor,
        "fret_height gap_wanted",
        "h + gap wanted / (1 - x1/x2)",
        f"{GEOMETRY}; the gap wanted {COMMON_PRACTICE}",
    ),
    row(
        nut.nut_slot_share,
        "nut_height slot_floor string_diameter",
        "(nut - floor) / d",
        GEOMETRY,
        result="count",
    ),
    row(
        intonation.cents_per_mm,
        "scale_length fret",
        "-(1200 / ln 2) (2^(n/12) - 1) / L",
        CENT,
        result="cents",
    ),
    row(
        intonation.saddle_offset_cents,
        "saddle_offset scale_length fret",
        "1200 log2((L + x) l / (L (l + x))), l = L 2^(-n/12)",
        CENT,
        result="cents",
    ),
    row(
        intonation.saddle_move_for_cents,
        "sharp scale_length fret",
        "L l (r - 1) / (L - r l), r = 2^(sharp/1200), l = L 2^(-n/12)",
        CENT,
    ),
    row(
        intonation.nut_offset_cents,
        "nut_offset scale_length",
        "1200 log2((L - y) / L)",
        CENT,
        result="cents",
    ),
    row(
        intonation.fret_offset_cents,
        "fret_offset scale_length fret",
        "1200 log2(l / (l - e)), l = L 2^(-n/12)",
        CENT,
        result="cents",
    ),
    row(
        stretching.pressed_length,
        "action scale_length fret",
        "sqrt(x^2 + a^2) + sqrt((L - x)^2 + a^2) - L, x = L (1 - 2^(-n/12))",
        GEOMETRY,
    ),
    row(
        stretching.stretch_cents,
        "action scale_length fret tension core_diameter elastic_modulus string_beyond",
        "600 log2(1 + E (pi d^2 / 4) e / (T (L + s))), e the pressed length",
        f"{GEOMETRY}, Hooke's law, law of the stretched string",
        result="cents",
    ),
)
