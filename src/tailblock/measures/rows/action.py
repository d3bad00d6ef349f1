"""Rows of the table of figures: action."""

from __future__ import annotations

from tailblock.measures import action
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

ROWS = (
    row(action.action_change, "pitch slack", "action(pitch) - action(slack)", FROM_MEMORY),
    row(action.action_fan, "bass treble", "action(bass) - action(treble)", COMMON_PRACTICE),
    row(
        action.action_from_geometry,
        "first_opening exposure projection relief scale_length compensation relief_share",
        "(1 - k) g + k (E - d) + 0.35 r, k = (x12 - x1)/(L + c - x1)",
        f"{GEOMETRY}; the share of relief worked out from it, no published source",
    ),
    row(
        action.geometry_residual,
        "action first_opening exposure projection relief scale_length compensation relief_share",
        "action - action from geometry",
        GEOMETRY,
    ),
    row(
        action.saddle_for_action,
        "exposure action action_wanted scale_length compensation",
        "E - (a - a wanted)/k, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        action.season_action,
        "action humidity humidity_wanted rise_per_percent",
        "a - 0.02 mm (RH - 45)",
        FROM_MEMORY,
    ),
)
