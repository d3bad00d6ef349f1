"""Rows of the table of figures: the top and its arch."""

from __future__ import annotations

from tailblock.measures import arch, body
from tailblock.measures.rows.row import FROM_MEMORY, GEOMETRY, row
from tailblock.measures.rows.shared_steps import SAGITTA

ROWS = (
    row(body.belly_change, "pitch slack", "pitch - slack", FROM_MEMORY),
    row(
        body.aim_without_hump,
        "projection belly dome lift_share",
        "projection + lift_share * (belly - dome)",
        f"{GEOMETRY}; the share {FROM_MEMORY}",
    ),
    row(
        body.hump_share,
        "projection belly dome lift_share aim_normal",
        (
            "100 * hump / (hump + neck) if hump > 0 else 0; hump = max(0, "
            "lift_share * (belly - dome)); neck = max(0, aim_normal - aim); "
            "aim = projection + lift_share * (belly - dome)"
        ),
        FROM_MEMORY,
        result="percent",
    ),
    row(
        body.hump_height,
        "bass treble chord radius",
        f"(bass + treble) / 2 - s; {SAGITTA}",
        "plane geometry",
    ),
    row(
        body.soundhole_sink,
        "gap chord radius",
        f"gap + s; {SAGITTA}",
        "plane geometry",
    ),
    row(
        arch.sagitta,
        "chord radius",
        "chord**2 / 4 / (radius + sqrt(radius**2 - chord**2 / 4))",
        "plane geometry",
    ),
    row(arch.arch_radius, "rise chord", "rise / 2 + chord**2 / (8 * rise)", "plane geometry"),
    row(
        arch.arch_over_span,
        "rise chord chord_wanted",
        (
            "chord_wanted**2 / 4 / (R + sqrt(R**2 - chord_wanted**2 / 4)); "
            "R = rise / 2 + chord**2 / (8 * rise)"
        ),
        "plane geometry",
    ),
)
