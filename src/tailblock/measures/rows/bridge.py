"""Rows of the table of figures: bridge and saddle."""

from __future__ import annotations

from tailblock.measures import bridge
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

ROWS = (
    row(
        bridge.tilt_change,
        "pitch slack",
        "tilt(pitch) - tilt(slack)",
        FROM_MEMORY,
        result="angle",
        each="angle",
    ),
    row(bridge.break_angle, "height distance", "atan(height / distance)", GEOMETRY, result="angle"),
    row(
        bridge.saddle_share,
        "slot_depth exposure",
        "slot depth / exposure",
        COMMON_PRACTICE,
        result="count",
    ),
)
