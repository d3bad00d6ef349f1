"""Rows of the table of figures: bridge and saddle."""

from __future__ import annotations

from tailblock.measures import break_angle, bridge, slot
from tailblock.measures.rows.row import COMMON_PRACTICE, FROM_MEMORY, GEOMETRY, row
from tailblock.measures.rows.shared_steps import RAMP

_STATICS = "statics"

ROWS = (
    row(
        bridge.tilt_change,
        "pitch slack",
        "pitch - slack",
        FROM_MEMORY,
        result="angle",
        each="angle",
    ),
    row(
        bridge.bridge_tilt,
        "front_gap back_gap front_distance back_distance radius",
        (
            "atan((back - front) / (front_distance + back_distance)); "
            "front = front_gap - s_front; back = back_gap - s_back; "
            "s_front = front_distance**2 / (radius + sqrt(radius**2 - front_distance**2)); "
            "s_back = back_distance**2 / (radius + sqrt(radius**2 - back_distance**2))"
        ),
        "plane geometry",
        result="angle",
    ),
    row(bridge.crown_shift, "tilt string_height", "string_height * sin(tilt)", GEOMETRY),
    row(bridge.string_height, "bridge_height exposure", "bridge_height + exposure", GEOMETRY),
    row(
        bridge.bridge_height_from_strings,
        "string_height exposure",
        "string_height - exposure",
        GEOMETRY,
    ),
    row(
        bridge.bridge_height_from_aim,
        "aim_over_top projection wing_drop",
        "aim_over_top - projection - wing_drop",
        GEOMETRY,
    ),
    row(
        bridge.bridge_moment,
        "tension string_height",
        "tension * string_height",
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
        f"min(to_bottom, to_edge); {RAMP}",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.ramping_gain,
        "exposure distance ramp_depth ramp_length",
        (
            f"min(to_bottom, to_edge) - angle_before; {RAMP}; "
            "angle_before = atan(exposure / distance)"
        ),
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.break_angle_pinless,
        "exposure hole_drop distance",
        "atan((exposure + hole_drop) / distance)",
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.redrilling_gain,
        "exposure hole_drop distance lowered",
        (
            "angle_after - angle_before; "
            "angle_before = atan((exposure + hole_drop) / distance); "
            "angle_after = atan((exposure + hole_drop + lowered) / distance)"
        ),
        GEOMETRY,
        result="angle",
    ),
    row(
        break_angle.break_angle_tied,
        "exposure hole_drop distance loop_lift",
        "atan((exposure + hole_drop - loop_lift) / distance)",
        f"{GEOMETRY}; the lift of the loop {COMMON_PRACTICE}",
        result="angle",
    ),
    row(
        break_angle.saddle_down_force,
        "tension break_angle",
        "tension * sin(break_angle)",
        _STATICS,
        result="force",
    ),
    row(
        break_angle.saddle_forward_force,
        "tension break_angle",
        "tension * (1 - cos(break_angle))",
        _STATICS,
        result="force",
    ),
    row(
        slot.saddle_share,
        "slot_depth exposure",
        "slot_depth / exposure",
        COMMON_PRACTICE,
        result="count",
    ),
    row(
        slot.saddle_lever,
        "exposure slot_depth",
        "(exposure + slot_depth) / slot_depth",
        _STATICS,
        result="count",
    ),
    row(
        slot.slot_lip_load,
        "forward_force exposure slot_depth",
        "forward_force * lever; lever = (exposure + slot_depth) / slot_depth",
        _STATICS,
        result="force",
    ),
    row(
        slot.exposure_limit,
        "slot_depth lever_limit",
        "slot_depth * (lever_limit - 1)",
        f"{_STATICS}; the limit {COMMON_PRACTICE}",
    ),
)
