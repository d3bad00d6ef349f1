"""Rows of the table of figures: frets, nut and intonation."""

from __future__ import annotations

from tailblock.measures import frets, intonation, nut, stretching
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row
from tailblock.measures.rows.shared_steps import FIRST_OF_TWO, PIECES, PRESSED, STOPPED, X1

CENT = "derived from the definition of the cent"

ROWS = (
    row(
        frets.fret_position,
        "scale_length fret",
        "scale_length * (1 - 2**(-fret / 12))",
        "equal temperament",
    ),
    row(frets.fret_height_left, "fret_height groove", "fret_height - groove", GEOMETRY),
    row(
        frets.height_after_dressing,
        "fret_height groove unevenness dressing_allowance",
        "fret_height - groove - unevenness - dressing_allowance",
        f"{GEOMETRY}; the allowance {FROM_MEMORY}",
    ),
    row(
        frets.dressing_margin,
        "fret_height groove unevenness dressing_allowance fret_height_wanted",
        "fret_height - groove - unevenness - dressing_allowance - fret_height_wanted",
        f"{GEOMETRY}; the least height {COMMON_PRACTICE}",
    ),
    row(
        frets.crown_flat,
        "crown_width crown_height taken",
        (
            "2 * sqrt(2 * r * taken - taken**2); "
            "r = crown_height / 2 + crown_width**2 / (8 * crown_height)"
        ),
        "plane geometry",
    ),
    row(
        nut.nut_slot_height,
        "gap_at_first",
        f"gap_at_first / (1 - q); {FIRST_OF_TWO}",
        "geometry of equal temperament",
    ),
    row(
        nut.first_opening_from_slot,
        "slot_height saddle_height scale_length compensation",
        (f"slot_height + (saddle_height - slot_height) * x1 / (scale_length + compensation); {X1}"),
        GEOMETRY,
    ),
    row(
        nut.nut_slot_lowering,
        "gap_at_first gap_wanted",
        f"(gap_at_first - gap_wanted) / (1 - q); {FIRST_OF_TWO}",
        "geometry of equal temperament",
    ),
    row(
        nut.nut_slot_floor,
        "fret_height gap_wanted",
        f"fret_height + gap_wanted / (1 - q); {FIRST_OF_TWO}",
        f"{GEOMETRY}; the gap wanted {COMMON_PRACTICE}",
    ),
    row(
        nut.nut_slot_share,
        "nut_height slot_floor string_diameter",
        "(nut_height - slot_floor) / string_diameter",
        GEOMETRY,
        result="count",
    ),
    row(
        intonation.cents_per_mm,
        "scale_length fret",
        f"-1200 / ln(2) * (1 / stopped - 1 / scale_length); {STOPPED}",
        CENT,
        result="cents",
    ),
    row(
        intonation.saddle_offset_cents,
        "saddle_offset scale_length fret",
        (
            "1200 * log2((scale_length + saddle_offset) * stopped "
            "/ (scale_length * (stopped + saddle_offset))); "
            f"{STOPPED}"
        ),
        CENT,
        result="cents",
    ),
    row(
        intonation.saddle_move_for_cents,
        "sharp scale_length fret",
        (
            "scale_length * stopped * (ratio - 1) / (scale_length - ratio * stopped); "
            f"ratio = 2**(sharp / 1200); {STOPPED}"
        ),
        CENT,
    ),
    row(
        intonation.nut_offset_cents,
        "nut_offset scale_length",
        "1200 * log2((scale_length - nut_offset) / scale_length)",
        CENT,
        result="cents",
    ),
    row(
        intonation.fret_offset_cents,
        "fret_offset scale_length fret",
        f"1200 * log2(stopped / (stopped - fret_offset)); {STOPPED}",
        CENT,
        result="cents",
    ),
    row(
        stretching.pressed_length,
        "action scale_length fret",
        f"{PRESSED}; {PIECES}",
        GEOMETRY,
    ),
    row(
        stretching.stretch_cents,
        "action scale_length fret tension core_diameter elastic_modulus string_beyond",
        (
            "600 * log2(1 + more / tension); "
            "more = elastic_modulus * pi * core_diameter**2 / 4 * stretch "
            "/ (scale_length + string_beyond); "
            f"stretch = {PRESSED}; {PIECES}"
        ),
        f"{GEOMETRY}, Hooke's law, law of the stretched string",
        result="cents",
    ),
)
