"""What the name of an argument stands for, in whatever row of the table of figures it occurs.

Out: `DIMENSIONS`, the dimension of each name that is not of its row's own dimension (mostly a
length), and `ASSUMED`, value and standard uncertainty of those that may be left out, in base units.
`LIMITS` are the bounds of those that mean the same size wherever they occur: what lies outside is a
slip, mostly inches without their unit. `LIKE` is how those are written that no example of their
dimension fits. For the symbols between arguments and result `STEPS` is what `DIMENSIONS` is for
arguments; a name that is no dimension is the unit itself.
"""

from __future__ import annotations

from math import inf
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.measures.woods import WOODS

if TYPE_CHECKING:
    from collections.abc import Mapping

ASSUMED: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "compensation": (2.0, 1.0),  # mean of the strings of a steel set
        "join": (14.0, 0.0),
        "fret": (12.0, 0.0),
        "relief_share": (0.35, 0.05),
        "relief_wanted": (0.165, 0.0),  # middle of what is ordinary on steel strings
        "aim_per_relief": (2.9, 0.5),
        "dome": (2.2, 1.0),  # what is unknown runs from 0 (made flat) to 4
        "lift_share": (0.6, 0.2),
        "aim_normal": (-0.3, 0.0),
        "humidity_wanted": (45.0, 0.0),
        "projection_wanted": (0.0, 0.0),  # level with the bridge top, at pitch
        "action_per_relief": (2.0, 0.35),
        "settling_rise": (0.2, 0.1),  # half of 1/64 in
        "settling_time": (48.0, 24.0),
        "wood_per_stroke": (0.02, 0.01),
        "loop_lift": (0.8, 0.2),  # about the thickness of the string
        "wing_drop": (0.3, 0.2),  # by the sagitta: 0 made flat, 0.4 at a radius of 7.5 m
        "lever_limit": (1.5, 0.0),  # two thirds of the saddle in its slot
        "rise_per_percent": (0.02, 0.01),
        "reference_pitch": (440.0, 0.0),  # ISO 16:1975
        "semitones_lower": (0.0, 0.0),
        "semitones_lower_after": (0.0, 0.0),
        "string_density": (7850.0, 45.0),  # high-carbon steel, within 1 %
        "core_density": (7850.0, 45.0),
        "steel_density": (7850.0, 45.0),
        "wrap_density": (8750.0, 90.0),  # the bronzes, 8600 to 8900
        "core_fill": (0.825, 0.023),  # round 0.785, six-sided 0.866
        "closeness": (0.98, 0.015),
        "set_factor": (1.0, 0.05),  # makers' sets of one name differ by up to 10 %
        "nylon_density": (1090.0, 25.0),
        "nylon_stretch": (0.10, 0.03),
        "elastic_modulus": (200_000.0, 5_800.0),  # steel, 190 000 to 210 000
        "string_beyond": (80.0, 46.0),  # what is unknown runs from 0 to 160
        "dressing_allowance": (0.05, 0.02),
        "fret_height_wanted": (0.75, 0.0),
        "gap_wanted": (0.12, 0.0),  # middle of what is ordinary on steel strings
        "species_offset": (0.0, 0.58),  # species differ by up to 1 % either way
        "shrinkage_start": (30.0, 0.0),
        "wood_time": (168.0, 96.0),  # finished on both sides: one to three weeks
        "board_coefficient": (0.0015, 0.0004),  # rosewoods, between quarter- and flat-sawn
        "top_coefficient": (WOODS["Sitka spruce"].radial, 0.00015),
        "top_thickness": (2.8, 0.2),
        "top_modulus_across": (850.0, 250.0),  # spruce, quarter-sawn, from memory
        "brace_spacing": (90.0, 20.0),
        "brace_width": (8.0, 1.0),
        "brace_height": (14.0, 2.0),
        "brace_modulus": (10_800.0, 1_100.0),  # Sitka spruce
        "bending_share": (0.5, 0.15),
        "temperature_before": (21.0, 2.0),  # a heated room
        "temperature_after": (21.0, 2.0),
        "rise_per_moisture": (0.12, 0.06),  # of the action
    }
)

LIMITS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "scale_length": (200.0, 1000.0),
        "heel_height": (1.0, inf),
        "size": (0.0, inf),
        "bridge_height": (0.0, inf),
        "frequency": (1.0, inf),
        "mass_per_length": (0.0, inf),
        "core_density": (1.0, inf),
        "wrap_density": (1.0, inf),
    }
)

LIKE: Mapping[str, str] = MappingProxyType(
    {
        "scale_length": "648 mm",
        "heel_height": "85 mm",
        "first_gauge": ".012 in",
        "first_gauge_after": ".011 in",
        "chord": "380 mm",
        "fret": "12",
        "join": "14",
    }
)

DIMENSIONS: Mapping[str, str] = MappingProxyType(
    {
        "coefficient": "count",
        "join": "count",
        "fret": "count",
        "relief_share": "count",
        "aim_per_relief": "count",
        "lift_share": "count",
        "action_per_relief": "count",
        "lever_limit": "count",
        "tilt": "angle",
        "neck_angle": "angle",
        "break_angle": "angle",
        "tension": "force",
        "forward_force": "force",
        "load": "force",
        "modulus": "stress",
        "other_modulus": "stress",
        "plate_modulus": "stress",
        "density": "density",
        "other_density": "density",
        "stiffness": "bending stiffness",
        "age": "time",
        "later": "time",
        "settling_time": "time",
        "humidity": "percent",
        "humidity_wanted": "percent",
        "moisture_before": "percent",
        "moisture_after": "percent",
        "temperature": "temperature",
        "frequency": "frequency",
        "mass_per_length": "mass per length",
        "semitones": "count",
        "semitones_lower": "count",
        "semitones_lower_after": "count",
        "reference_pitch": "frequency",
        "frequency_before": "frequency",
        "frequency_after": "frequency",
        "string_density": "density",
        "core_density": "density",
        "steel_density": "density",
        "wrap_density": "density",
        "nylon_density": "density",
        "core_fill": "count",
        "closeness": "count",
        "set_factor": "count",
        "nylon_stretch": "count",
        "elastic_modulus": "stress",
        "sharp": "cents",
        "board_coefficient": "count",
        "top_coefficient": "count",
        "bending_share": "count",
        "top_modulus_across": "stress",
        "brace_modulus": "stress",
        "species_offset": "percent",
        "shrinkage": "percent",
        "shrinkage_start": "percent",
        "moisture_final": "percent",
        "time_held": "time",
        "wood_time": "time",
        "temperature_before": "temperature",
        "temperature_after": "temperature",
        "humidity_before": "percent",
        "humidity_after": "percent",
    }
)

STEPS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(
            ("k", "q", "climb", "ratio", "slope", "swelling", "lever", "turns"), "count"
        ),
        **dict.fromkeys(("g", "a", "chemical", "W", "K", "K1", "K2"), "count"),
        **dict.fromkeys(("t", "to_bottom", "to_edge", "angle_before", "angle_after"), "angle"),
        **dict.fromkeys(("EI", "EI1", "EI2"), "bending stiffness"),
        **dict.fromkeys(("EA1", "EA2", "more", "T_before", "T_after"), "force"),
        **dict.fromkeys((f"T{string}" for string in range(1, 13)), "force"),
        **dict.fromkeys((f"f{string}" for string in range(1, 13)), "frequency"),
        **dict.fromkeys((f"m{string}" for string in range(1, 13)), "mass per length"),
        **dict.fromkeys(("core", "winding"), "mass per length"),
        **dict.fromkeys(("M_before", "M_after"), "percent"),
        **dict.fromkeys(("p_before", "p_after"), "hPa"),
        "curvature": "1/mm",
    }
)
