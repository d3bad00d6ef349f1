"""Rows of the table of figures: bridge and saddle."""

from __future__ import annotations

from tailblock.measures import break_angle, bridge, slot
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row

_STATICS = "statics"

ROWS = (
    row(
        bridge.tilt_change,
        "pitch slack",
        "tilt(pitch) - tilt(slack)",
        FROM_MEMORY,
        result="angle",
        each="angle",
    ),
    row(
        bridge.bridge_tilt,
        "front_gap back_gap front_distance back_distance radius",
        "atan((gap(back) - s(back) - gap(front) + s(front)) / (x front + x back)), s of the dome",
        "plane geometry",
        result="angle",
    ),
    row(bridge.crown_shift, "tilt string_height", "H sin(tilt)", GEOMETRY),
    row(bridge.string_height, "bridge_height exposure", "bridge + exposure", GEOMETRY),
    row(
        bridge.bridge_moment,
        "tension string_height",
        "tension of all strings times H",
        _STATICS,
        result="moment",
    ),
    row(
        break_angle.break_angle,
        "height distance",
        "atan(height / distance)",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.break_angle_ramped,
        "exposure distance ramp_depth ramp_length",
        "atan(min((E + depth)/q, E/(q - length)))",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.ramping_gain,
        "exposure distance ramp_depth ramp_length",
        "atan(min((E + depth)/q, E/(q - length))) - atan(E/q)",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.break_angle_pinless,
        "exposure hole_drop distance",
        "atan((E + drop) / q)",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.redrilling_gain,
        "exposure hole_drop distance lowered",
        "atan((E + drop + lowered)/q) - atan((E + drop)/q)",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.break_angle_tied,
        "exposure hole_drop distance loop_lift",
        "atan((E + drop - lift) / q)",
        f"{GEOMETRY}; the lift of the loop {COMMON_PRACTICE}",
        result="angle",
    ),
    row(
        break_angle.saddle_down_force,
        "tension break_angle",
        "T sin(beta)",
        _STATICS,
        result="force",
    ),
    row(
        break_angle.saddle_forward_force,
        "tension break_angle",
        "T (1 - cos(beta))",
        _STATICS,
        result="force",
    ),
    row(
        slot.saddle_share,
        "slot_depth exposure",
        "slot depth / exposure",
        COMMON_PRACTICE,
        result="count",
    ),
    row(slot.saddle_lever, "exposure slot_depth", "(E + D) / D", _STATICS, result="count"),
    row(
        slot.slot_lip_load,
        "forward_force exposure slot_depth",
        "F (E + D) / D",
        _STATICS,
        result="force",
    ),
    row(
        slot.exposure_limit,
        "slot_depth lever_limit",
        "D (lever limit - 1)",
        f"{_STATICS}; the limit {COMMON_PRACTICE}",
    ),
)
