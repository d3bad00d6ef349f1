"""Rows of the table of figures: strings."""

from __future__ import annotations

from tailblock.measures import intonation, strings
from tailblock.measures.rows.row import row

ROWS = (
    row(
        strings.string_tension,
        "scale_length frequency mass_per_length",
        "mu (2 L f)^2",
        "law of the stretched string (Mersenne), in any text on acoustics",
        result="force",
    ),
    row(
        intonation.cents_per_mm,
        "scale_length fret",
        "-(1200 / ln 2) (2^(n/12) - 1) / L",
        "derived from the definition of the cent",
        result="cents",
    ),
)
