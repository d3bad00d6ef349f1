"""Rows of the table of figures: the top and its arch."""

from __future__ import annotations

from tailblock.measures import body
from tailblock.measures.rows.row import FROM_MEMORY, GEOMETRY, row

ROWS = (
    row(body.belly_change, "pitch slack", "gap(pitch) - gap(slack)", FROM_MEMORY),
    row(
        body.aim_without_hump,
        "projection belly dome lift_share",
        "projection + 0.6 (belly - dome)",
        f"{GEOMETRY}; the share {FROM_MEMORY}",
    ),
    row(
        body.hump_share,
        "projection belly dome lift_share aim_normal",
        "h / (h + n), h = max(0, 0.6 (belly - dome)), n = max(0, -0.3 - aim without hump)",
        FROM_MEMORY,
        result="percent",
    ),
    row(body.sagitta, "chord radius", "R - sqrt(R^2 - c^2/4)", "plane geometry"),
)
