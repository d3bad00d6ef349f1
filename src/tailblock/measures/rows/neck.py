"""Rows of the table of figures: relief, projection and neck angle."""

from __future__ import annotations

from tailblock.measures import neck
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

ROWS = (
    row(neck.relief_twist, "bass treble", "|relief(bass) - relief(treble)|", COMMON_PRACTICE),
    row(neck.relief_change, "pitch slack", "relief(pitch) - relief(slack)", FROM_MEMORY),
    row(
        neck.projection_change, "slack pitch", "projection(slack) - projection(pitch)", FROM_MEMORY
    ),
    row(
        neck.aim_at_normal_relief,
        "projection relief relief_wanted aim_per_relief",
        "projection + 2.9 (relief - relief wanted)",
        f"{GEOMETRY}, worked out over five shapes of bow; no published source",
    ),
    row(
        neck.neck_reset_angle,
        "rise scale_length join compensation",
        "atan(rise / D), D = L + c - x(join)",
        GEOMETRY,
        result="angle",
    ),
    row(
        neck.heel_cut,
        "rise heel_height scale_length join compensation",
        "rise heel / D, D = L + c - x(join)",
        GEOMETRY,
    ),
)
