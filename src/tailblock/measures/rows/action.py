"""Rows of the table of figures: action."""

from __future__ import annotations

from tailblock.measures import action, saddle, settling
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
        action.projection_from_action,
        "action first_opening exposure relief scale_length compensation relief_share",
        "E - (a - (1 - k) g - 0.35 r)/k, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        saddle.share_at_fret_12,
        "scale_length compensation",
        "(x12 - x1)/(L + c - x1)",
        GEOMETRY,
        result="count",
    ),
    row(
        saddle.saddle_from_geometry,
        "action_wanted first_opening projection relief scale_length compensation relief_share",
        "d + (a wanted - (1 - k) g - 0.35 r)/k, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        saddle.action_for_saddle,
        "exposure action exposure_wanted scale_length compensation",
        "a + k (E wanted - E), k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        saddle.saddle_for_action,
        "exposure action action_wanted scale_length compensation",
        "E - (a - a wanted)/k, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        settling.action_forecast,
        "action age later settling_rise settling_time",
        "a + A (exp(-age/tau) - exp(-later/tau))",
        f"{COMMON_PRACTICE}; the law and its time {FROM_MEMORY}",
    ),
    row(
        settling.settling_ratio,
        "start early late",
        "(action(late) - action(early)) / (action(early) - action(start))",
        "worked out from action_forecast, no published source",
        result="count",
    ),
    row(
        settling.season_action,
        "action humidity humidity_wanted rise_per_percent",
        "a - 0.02 mm (RH - 45)",
        FROM_MEMORY,
    ),
)
