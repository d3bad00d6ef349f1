"""The table of figures: every formula of this folder by name, with its arguments and its source.

In: the name of a figure, values in base units with standard uncertainties. Out: the result with its
standard uncertainty. Constants of a formula (a share, a usual compensation) are arguments that may
be left out: `assumed` says what is then taken and how uncertain it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.measures import action, body, bridge, frets, neck, strings, wood
from tailblock.measures.uncertainty import propagate

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"
GEOMETRY = "geometry"
WOOD_HANDBOOK = "Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)"


class UnknownFigure(TailblockError, ValueError):
    """No figure has that name."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"{name!r} is not a figure; there are {', '.join(FIGURES)}")


class WrongArguments(TailblockError, ValueError):
    """A figure got an argument it does not know, or lacks one."""

    def __init__(self, figure: Figure, missing: set[str], unknown: set[str]) -> None:
        self.figure, self.missing, self.unknown = figure, missing, unknown
        lacks = f"lacks {', '.join(sorted(missing))}" if missing else ""
        odd = f"does not know {', '.join(sorted(unknown))}" if unknown else ""
        said = " and ".join(filter(None, (lacks, odd)))
        super().__init__(f"{figure.name} {said}; it takes {', '.join(figure.arguments)}")


@dataclass(frozen=True, slots=True)
class Figure:
    """A formula: its function, the dimensions of arguments and result, its text and source.

    `assumed` holds value and standard uncertainty of the arguments that may be left out.
    """

    name: str
    function: Callable[..., float]
    arguments: Mapping[str, str]
    result: str
    formula: str
    source: str
    assumed: Mapping[str, tuple[float, float]]

    @property
    def required(self) -> tuple[str, ...]:
        """Return the arguments that must be given."""
        return tuple(name for name in self.arguments if name not in self.assumed)


# Arguments that may be left out, wherever they occur: (value, standard uncertainty).
_ASSUMED = {
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
    "rise_per_percent": (0.02, 0.01),
}

_DIMENSIONS = {
    "coefficient": "count",
    "join": "count",
    "fret": "count",
    "relief_share": "count",
    "aim_per_relief": "count",
    "lift_share": "count",
    "humidity": "percent",
    "humidity_wanted": "percent",
    "moisture_before": "percent",
    "moisture_after": "percent",
    "temperature": "temperature",
    "frequency": "frequency",
    "mass_per_length": "mass per length",
}


def _figure(
    function: Callable[..., float],
    arguments: str,
    formula: str,
    source: str,
    *,
    result: str = "length",
    each: str = "length",
) -> Figure:
    """Make one row; an argument is of dimension `each` unless its name stands in the table."""
    names = arguments.split()
    return Figure(
        name=function.__name__,
        function=function,
        arguments=MappingProxyType({name: _DIMENSIONS.get(name, each) for name in names}),
        result=result,
        formula=formula,
        source=source,
        assumed=MappingProxyType({name: _ASSUMED[name] for name in names if name in _ASSUMED}),
    )


_ROWS = (
    _figure(
        bridge.tilt_change,
        "pitch slack",
        "tilt(pitch) - tilt(slack)",
        FROM_MEMORY,
        result="angle",
        each="angle",
    ),
    _figure(
        bridge.break_angle, "height distance", "atan(height / distance)", GEOMETRY, result="angle"
    ),
    _figure(
        bridge.saddle_share,
        "slot_depth exposure",
        "slot depth / exposure",
        COMMON_PRACTICE,
        result="count",
    ),
    _figure(body.belly_change, "pitch slack", "gap(pitch) - gap(slack)", FROM_MEMORY),
    _figure(
        body.aim_without_hump,
        "projection belly dome lift_share",
        "projection + 0.6 (belly - dome)",
        f"{GEOMETRY}; the share {FROM_MEMORY}",
    ),
    _figure(
        body.hump_share,
        "projection belly dome lift_share aim_normal",
        "h / (h + n), h = max(0, 0.6 (belly - dome)), n = max(0, -0.3 - aim without hump)",
        FROM_MEMORY,
        result="percent",
    ),
    _figure(body.sagitta, "chord radius", "R - sqrt(R^2 - c^2/4)", "plane geometry"),
    _figure(neck.relief_twist, "bass treble", "|relief(bass) - relief(treble)|", COMMON_PRACTICE),
    _figure(neck.relief_change, "pitch slack", "relief(pitch) - relief(slack)", FROM_MEMORY),
    _figure(
        neck.projection_change, "slack pitch", "projection(slack) - projection(pitch)", FROM_MEMORY
    ),
    _figure(
        neck.aim_at_normal_relief,
        "projection relief relief_wanted aim_per_relief",
        "projection + 2.9 (relief - relief wanted)",
        f"{GEOMETRY}, worked out over five shapes of bow; no published source",
    ),
    _figure(
        neck.neck_reset_angle,
        "rise scale_length join compensation",
        "atan(rise / D), D = L + c - x(join)",
        GEOMETRY,
        result="angle",
    ),
    _figure(
        neck.heel_cut,
        "rise heel_height scale_length join compensation",
        "rise heel / D, D = L + c - x(join)",
        GEOMETRY,
    ),
    _figure(action.action_change, "pitch slack", "action(pitch) - action(slack)", FROM_MEMORY),
    _figure(action.action_fan, "bass treble", "action(bass) - action(treble)", COMMON_PRACTICE),
    _figure(
        action.action_from_geometry,
        "first_opening exposure projection relief scale_length compensation relief_share",
        "(1 - k) g + k (E - d) + 0.35 r, k = (x12 - x1)/(L + c - x1)",
        f"{GEOMETRY}; the share of relief worked out from it, no published source",
    ),
    _figure(
        action.geometry_residual,
        "action first_opening exposure projection relief scale_length compensation relief_share",
        "action - action from geometry",
        GEOMETRY,
    ),
    _figure(
        action.saddle_for_action,
        "exposure action action_wanted scale_length compensation",
        "E - (a - a wanted)/k, k = (x12 - x1)/(L + c - x1)",
        GEOMETRY,
    ),
    _figure(
        action.season_action,
        "action humidity humidity_wanted rise_per_percent",
        "a - 0.02 mm (RH - 45)",
        FROM_MEMORY,
    ),
    _figure(
        wood.equilibrium_moisture,
        "temperature humidity",
        "1800/W (a/(1-a) + (K1 a + 2 K1 K2 a^2)/(1 + K1 a + K1 K2 a^2)), a = K RH/100",
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    _figure(
        wood.dimensional_change,
        "size coefficient moisture_before moisture_after",
        "D C (M after - M before)",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
    _figure(
        strings.string_tension,
        "scale_length frequency mass_per_length",
        "mu (2 L f)^2",
        "law of the stretched string (Mersenne), in any text on acoustics",
        result="force",
    ),
    _figure(
        strings.cents_per_mm,
        "scale_length fret",
        "-(1200 / ln 2) (2^(n/12) - 1) / L",
        "derived from the definition of the cent",
        result="cents",
    ),
    _figure(frets.fret_position, "scale_length fret", "L (1 - 2^(-n/12))", "equal temperament"),
)

FIGURES: Mapping[str, Figure] = MappingProxyType({row.name: row for row in _ROWS})


def evaluate(name: str, values: Mapping[str, float], u: Mapping[str, float]) -> tuple[float, float]:
    """Return a figure and its standard uncertainty, both in the base unit of its result.

    Parameters
    ----------
    name
        One of `FIGURES`.
    values
        Arguments in base units; those with an `assumed` value may be left out.
    u
        Standard uncertainties of the values given; one that is left out is exact.

    Raises
    ------
    UnknownFigure
        No figure has that name.
    WrongArguments
        An argument is missing or unknown.
    OutOfRange
        The formula does not hold for these values.

    >>> read = {"projection": -1.8, "belly": 5.0, "dome": 2.2}
    >>> value, u = evaluate("aim_without_hump", read, {"projection": 0.26, "belly": 0.31})
    >>> round(value, 2), round(u, 2)  # worked here: u^2 = 0.26^2 + (0.6 x 0.31)^2 + (0.2 x 2.8)^2
    (-0.12, 0.64)
    """
    if name not in FIGURES:
        raise UnknownFigure(name)
    figure = FIGURES[name]
    missing = set(figure.required) - set(values)
    unknown = set(values) | set(u)
    unknown -= set(figure.arguments)
    if missing or unknown:
        raise WrongArguments(figure, missing, unknown)
    taken = {arg: figure.assumed[arg] for arg in figure.assumed if arg not in values}
    full = {arg: value for arg, (value, _) in taken.items()} | dict(values)
    spread = {arg: step for arg, (_, step) in taken.items()} | dict(u)
    return propagate(figure.function, full, spread)
