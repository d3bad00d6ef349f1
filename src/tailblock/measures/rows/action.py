"""Rows of the table of figures: action."""

from __future__ import annotations

from tailblock.measures import action, saddle, settling
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row
from tailblock.measures.rows.shared_steps import BY_GEOMETRY, LEVER, X1

ROWS = (
    row(action.action_change, "pitch slack", "pitch - slack", FROM_MEMORY),
    row(action.action_fan, "bass treble", "bass - treble", COMMON_PRACTICE),
    row(
        action.action_from_geometry,
        "first_opening exposure projection relief scale_length compensation relief_share",
        f"{BY_GEOMETRY}; {LEVER}",
        f"{GEOMETRY}; the share of relief worked out from it, no published source",
    ),
    row(
        action.geometry_residual,
        "action first_opening exposure projection relief scale_length compensation relief_share",
        f"action - by_geometry; by_geometry = {BY_GEOMETRY}; {LEVER}",
        GEOMETRY,
    ),
    row(
        action.projection_from_action,
        "action first_opening exposure relief scale_length compensation relief_share",
        (f"exposure - (action - (1 - k) * first_opening - relief_share * relief) / k; {LEVER}"),
        GEOMETRY,
    ),
    row(
        saddle.share_at_fret_12,
        "scale_length compensation",
        f"(x12 - x1) / (scale_length + compensation - x1); x12 = scale_length / 2; {X1}",
        GEOMETRY,
        result="count",
    ),
    row(
        saddle.saddle_from_geometry,
        "action_wanted first_opening projection relief scale_length compensation relief_share",
        (
            "projection + (action_wanted - (1 - k) * first_opening - relief_share * relief) / k; "
            f"{LEVER}"
        ),
        GEOMETRY,
    ),
    row(
        saddle.action_for_saddle,
        "exposure action exposure_wanted scale_length compensation",
        f"action + k * (exposure_wanted - exposure); {LEVER}",
        GEOMETRY,
    ),
    row(
        saddle.saddle_for_action,
        "exposure action action_wanted scale_length compensation",
        f"exposure - (action - action_wanted) / k; {LEVER}",
        GEOMETRY,
    ),
    row(
        settling.action_forecast,
        "action age later settling_rise settling_time",
        "action + settling_rise * (exp(-age / settling_time) - exp(-later / settling_time))",
        f"{COMMON_PRACTICE}; the law and its time {FROM_MEMORY}",
    ),
    row(
        settling.settling_ratio,
        "start early late",
        "(late - early) / (early - start)",
        "worked out from action_forecast, no published source",
        result="count",
    ),
    row(
        settling.season_action,
        "action humidity humidity_wanted rise_per_percent",
        "action - rise_per_percent * (humidity - humidity_wanted)",
        FROM_MEMORY,
    ),
)
