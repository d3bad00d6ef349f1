"""Rows of the table of figures: relief, neck aim and angle, and the reset in wood."""

from __future__ import annotations

from tailblock.measures import heel, neck, relief
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

_FIVE_BOWS = f"{GEOMETRY}, worked out over five shapes of bow; no published source"
_SIZES = "scale_length join compensation"

ROWS = (
    row(relief.relief_twist, "bass treble", "|relief(bass) - relief(treble)|", COMMON_PRACTICE),
    row(relief.relief_change, "pitch slack", "relief(pitch) - relief(slack)", FROM_MEMORY),
    row(
        relief.bow_radius,
        "relief scale_length join",
        "r/2 + c^2/(8 r), c = x(join) - x1",
        "plane geometry",
    ),
    row(
        relief.bow_relief,
        "radius scale_length join",
        "R - sqrt(R^2 - c^2/4), c = x(join) - x1",
        "plane geometry",
    ),
    row(
        neck.projection_change, "slack pitch", "projection(slack) - projection(pitch)", FROM_MEMORY
    ),
    row(
        relief.aim_at_normal_relief,
        "projection relief relief_wanted aim_per_relief",
        "projection + 2.9 (relief - relief wanted)",
        _FIVE_BOWS,
    ),
    row(
        relief.action_at_normal_relief,
        "action relief relief_wanted action_per_relief",
        "action - 2.0 (relief - relief wanted)",
        _FIVE_BOWS,
    ),
    row(
        relief.rod_share,
        "action action_wanted relief relief_wanted action_per_relief",
        "b / (b + n), b = max(0, 2.0 (r - r wanted)), n = max(0, a - a wanted - b)",
        _FIVE_BOWS,
        result="percent",
    ),
    row(
        relief.aim_rod_share,
        "projection projection_wanted relief relief_wanted aim_per_relief",
        "b / (b + n), b = max(0, 2.9 (r - r wanted)), n = max(0, d wanted - d - b)",
        _FIVE_BOWS,
        result="percent",
    ),
    row(
        neck.projection_from_heights,
        f"height_at_join height_at_end tongue_length bridge_height {_SIZES}",
        "h join + (h end - h join) D/e - T, D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        neck.aim_lost,
        "projection projection_wanted",
        "projection wanted - projection",
        GEOMETRY,
    ),
    row(
        neck.neck_angle_lost,
        f"projection projection_wanted {_SIZES}",
        "atan((d wanted - d) / D), D = L + c - x(join)",
        GEOMETRY,
        result="angle",
    ),
    row(
        neck.neck_reset_angle,
        f"rise {_SIZES}",
        "atan(rise / D), D = L + c - x(join)",
        GEOMETRY,
        result="angle",
    ),
    row(
        neck.rise_of_angle,
        f"neck_angle {_SIZES}",
        "D tan(angle), D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        heel.reset_rise,
        "action action_wanted exposure exposure_wanted scale_length compensation",
        "(a - a wanted)/k + E wanted - E, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    row(
        heel.heel_cut,
        f"rise heel_height {_SIZES}",
        "rise heel / D, D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        heel.heel_top_cut,
        f"rise board_height {_SIZES}",
        "rise board / D, D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        heel.cheek_taper,
        "cut_at_top cut_at_cap heel_height depth",
        "t top + (t cap - t top) depth / heel",
        GEOMETRY,
    ),
    row(
        heel.rise_of_cut,
        f"cut heel_height {_SIZES}",
        "cut D / heel, D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        heel.abrasive_strokes,
        "cut wood_per_stroke",
        "cut / wood per stroke, each side",
        f"{COMMON_PRACTICE}; 0.02 mm a stroke {FROM_MEMORY}",
        result="count",
    ),
    row(
        heel.side_swing,
        f"bass treble heel_width {_SIZES}",
        "(cut(treble) - cut(bass)) D / width, D = L + c - x(join)",
        GEOMETRY,
    ),
    row(
        heel.tongue_wedge,
        f"rise tongue_length {_SIZES}",
        "rise tongue / D, D = L + c - x(join)",
        GEOMETRY,
    ),
)
