"""Rows of the table of figures: frets."""

from __future__ import annotations

from tailblock.measures import frets
from tailblock.measures.rows.row import row

ROWS = (row(frets.fret_position, "scale_length fret", "L (1 - 2^(-n/12))", "equal temperament"),)
