"""Rows of the table of figures: relief, neck aim and angle, and the reset in wood."""

from __future__ import annotations

from tailblock.measures import heel, neck, relief
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row
from tailblock.measures.rows.shared_steps import LEVER, REACH, SPAN

_FIVE_BOWS = f"{GEOMETRY}, worked out over five shapes of bow; no published source"
_SIZES = "scale_length join compensation"

ROWS = (
    row(relief.relief_twist, "bass treble", "abs(bass - treble)", COMMON_PRACTICE),
    row(relief.relief_change, "pitch slack", "pitch - slack", FROM_MEMORY),
    row(
        relief.bow_radius,
        "relief scale_length join",
        f"relief / 2 + c**2 / (8 * relief); {SPAN}",
        "plane geometry",
    ),
    row(
        relief.bow_relief,
        "radius scale_length join",
        f"c**2 / 4 / (radius + sqrt(radius**2 - c**2 / 4)); {SPAN}",
        "plane geometry",
    ),
    row(neck.projection_change, "slack pitch", "slack - pitch", FROM_MEMORY),
    row(
        relief.aim_at_normal_relief,
        "projection relief relief_wanted aim_per_relief",
        "projection + aim_per_relief * (relief - relief_wanted)",
        _FIVE_BOWS,
    ),
    row(
        relief.action_at_normal_relief,
        "action relief relief_wanted action_per_relief",
        "action - action_per_relief * (relief - relief_wanted)",
        _FIVE_BOWS,
    ),
    row(
        relief.rod_share,
        "action action_wanted relief relief_wanted action_per_relief",
        (
            "100 * bow / (bow + rest) if action > action_wanted else 0; bow = max(0, "
            "action_per_relief * (relief - relief_wanted)); rest = max(0, "
            "action - action_wanted - action_per_relief * (relief - relief_wanted))"
        ),
        _FIVE_BOWS,
        result="percent",
    ),
    row(
        relief.aim_rod_share,
        "projection projection_wanted relief relief_wanted aim_per_relief",
        (
            "100 * bow / (bow + rest) if projection_wanted > projection else 0; bow = max(0, "
            "aim_per_relief * (relief - relief_wanted)); rest = max(0, "
            "projection_wanted - projection - aim_per_relief * (relief - relief_wanted))"
        ),
        _FIVE_BOWS,
        result="percent",
    ),
    row(
        neck.projection_from_heights,
        f"height_at_join height_at_end tongue_length bridge_height {_SIZES}",
        (
            "height_at_join + climb * D - bridge_height; "
            f"climb = (height_at_end - height_at_join) / tongue_length; {REACH}"
        ),
        GEOMETRY,
    ),
    row(
        neck.aim_lost,
        "projection projection_wanted",
        "projection_wanted - projection",
        GEOMETRY,
    ),
    row(
        neck.neck_angle_lost,
        f"projection projection_wanted {_SIZES}",
        f"atan(lost / D); lost = projection_wanted - projection; {REACH}",
        GEOMETRY,
        result="angle",
    ),
    row(
        neck.neck_reset_angle,
        f"rise {_SIZES}",
        f"atan(rise / D); {REACH}",
        GEOMETRY,
        result="angle",
    ),
    row(
        neck.rise_of_angle,
        f"neck_angle {_SIZES}",
        f"D * tan(neck_angle); {REACH}",
        GEOMETRY,
    ),
    row(
        heel.reset_rise,
        "action action_wanted exposure exposure_wanted scale_length compensation",
        f"(action - action_wanted) / k + exposure_wanted - exposure; {LEVER}",
        GEOMETRY,
    ),
    row(
        heel.heel_cut,
        f"rise heel_height {_SIZES}",
        f"rise * heel_height / D; {REACH}",
        GEOMETRY,
    ),
    row(
        heel.heel_top_cut,
        f"rise board_height {_SIZES}",
        f"rise * board_height / D; {REACH}",
        GEOMETRY,
    ),
    row(
        heel.cheek_taper,
        "cut_at_top cut_at_cap heel_height depth",
        "cut_at_top + (cut_at_cap - cut_at_top) * depth / heel_height",
        GEOMETRY,
    ),
    row(
        heel.rise_of_cut,
        f"cut heel_height {_SIZES}",
        f"cut * D / heel_height; {REACH}",
        GEOMETRY,
    ),
    row(
        heel.abrasive_strokes,
        "cut wood_per_stroke",
        "cut / wood_per_stroke",
        f"{COMMON_PRACTICE}; 0.02 mm a stroke {FROM_MEMORY}",
        result="count",
    ),
    row(
        heel.side_swing,
        f"bass treble heel_width {_SIZES}",
        f"(treble - bass) * D / heel_width; {REACH}",
        GEOMETRY,
    ),
    row(
        heel.tongue_wedge,
        f"rise tongue_length {_SIZES}",
        f"rise * tongue_length / D; {REACH}",
        GEOMETRY,
    ),
)
