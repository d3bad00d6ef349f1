"""Rows of the table of figures: the top and its arch."""

from __future__ import annotations

from tailblock.measures import arch, body
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
    row(
        body.hump_height,
        "bass treble chord radius",
        "(gap(bass) + gap(treble))/2 - s, s = R - sqrt(R^2 - c^2/4)",
        "plane geometry",
    ),
    row(
        body.soundhole_sink,
        "gap chord radius",
        "gap + s, s = R - sqrt(R^2 - c^2/4)",
        "plane geometry",
    ),
    row(arch.sagitta, "chord radius", "R - sqrt(R^2 - c^2/4)", "plane geometry"),
    row(arch.arch_radius, "rise chord", "s/2 + c^2/(8 s)", "plane geometry"),
    row(
        arch.arch_over_span,
        "rise chord chord_wanted",
        "R - sqrt(R^2 - c wanted^2/4), R = s/2 + c^2/(8 s)",
        "plane geometry",
    ),
)
