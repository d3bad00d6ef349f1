"""What the name of an argument stands for, in whatever row of the table of figures it occurs.

Out: `DIMENSIONS`, the dimension of each name that is not of its row's own dimension (mostly a
length), and `ASSUMED`, value and standard uncertainty of those that may be left out, in base units.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

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
        "lever_limit": (1.5, 0.0),  # two thirds of the saddle in its slot
        "rise_per_percent": (0.02, 0.01),
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
    }
)
