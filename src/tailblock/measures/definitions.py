"""The units that people write, each with its exact factor to the base unit of its dimension.

In: nothing. Out: `UNITS` (all units), `EXAMPLES` (what a quantity of each dimension looks like),
`Quantity`, `find_unit` (spelling -> unit) and the errors that `units` raises. Base units: mm,
degree, %, degree Celsius, g, N, cent, 1, Hz, g/m, kg/m^3, N/mm^2, N mm, N mm^2, hour.

Sources of the factors: inch 25.4 mm (international yard and pound agreement, 1959), pound
0.45359237 kg and standard gravity 9.80665 m/s^2 (NIST SP 811, appendix B; values from memory, all
exact by definition). A year is the Julian year of 365.25 days and a month its twelfth, because a
date that is needed to the day is written as a date.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Mapping

INCH = Fraction("25.4")
POUND = Fraction("453.59237")
GRAVITY = Fraction("9.80665")
ZERO_CELSIUS_IN_KELVIN = Fraction("273.15")
YEAR = Fraction("365.25") * 24

LONGEST = 40  # characters; nobody writes a longer quantity, and no float overflows below it


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in the base unit of its dimension."""

    value: float
    dimension: str


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: `base = written * factor + offset`, exactly."""

    name: str
    dimension: str
    factor: Fraction
    spellings: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)


UNITS: tuple[Unit, ...] = (
    Unit("mm", "length", Fraction(1), ("millimetre", "millimetres", "millimeter", "millimeters")),
    Unit("cm", "length", Fraction(10), ("centimetre", "centimetres", "centimeter", "centimeters")),
    Unit("m", "length", Fraction(1000), ("metre", "metres", "meter", "meters")),
    Unit("in", "length", INCH, ('"', "''", "inch", "inches")),
    Unit("ft", "length", INCH * 12, ("'", "foot", "feet")),
    Unit("thou", "length", INCH / 1000, ("thousandth", "thousandths", "mil", "mils")),
    Unit("deg", "angle", Fraction(1), ("°", "degree", "degrees")),
    Unit("%", "percent", Fraction(1), ("percent", "per cent", "pct", "%rh", "% rh", "rh")),
    Unit("C", "temperature", Fraction(1), ("°c", "° c", "deg c", "degc", "celsius")),
    Unit(
        "F",
        "temperature",
        Fraction(5, 9),
        ("°f", "° f", "deg f", "degf", "fahrenheit"),
        offset=Fraction(-160, 9),
    ),
    Unit("K", "temperature", Fraction(1), ("kelvin",), offset=-ZERO_CELSIUS_IN_KELVIN),
    Unit("g", "mass", Fraction(1), ("gram", "grams")),
    Unit("kg", "mass", Fraction(1000), ("kilogram", "kilograms")),
    Unit("oz", "mass", POUND / 16, ("ounce", "ounces")),
    Unit("lb", "mass", POUND, ("lbs", "pound", "pounds")),
    Unit("N", "force", Fraction(1), ("newton", "newtons")),
    Unit("kgf", "force", GRAVITY, ("kilogram-force",)),
    Unit("lbf", "force", POUND * GRAVITY / 1000, ("pound-force",)),
    Unit("cents", "cents", Fraction(1), ("c", "cent", "ct")),
    Unit("1", "count", Fraction(1), ("count", "times", "pieces", "places", "frets", "strings")),
    Unit("Hz", "frequency", Fraction(1), ("hertz",)),
    Unit("g/m", "mass per length", Fraction(1), ("grams per metre", "grams per meter")),
    Unit("lb/in", "mass per length", POUND * 1000 / INCH, ("lbs/in", "lb/inch", "pounds per inch")),
    Unit("kg/m³", "density", Fraction(1), ("kg/m3", "kg/m^3")),
    Unit("g/cm³", "density", Fraction(1000), ("g/cm3", "g/cm^3")),
    Unit("N/mm²", "stress", Fraction(1), ("n/mm2", "n/mm^2", "mpa")),
    Unit("GPa", "stress", Fraction(1000), ("gigapascal", "gigapascals")),
    Unit("psi", "stress", POUND * GRAVITY / 1000 / INCH**2, ("lbf/in2", "lbf/in^2")),
    Unit("N mm", "moment", Fraction(1), ("n·mm", "newton millimetres", "newton millimeters")),
    Unit("N m", "moment", Fraction(1000), ("n·m", "newton metres", "newton meters")),
    Unit("lbf in", "moment", POUND * GRAVITY / 1000 * INCH, ("lbf·in", "in lbf", "in·lbf")),
    Unit("N mm²", "bending stiffness", Fraction(1), ("n·mm²", "n mm2", "n mm^2")),
    Unit("N m²", "bending stiffness", Fraction(1000) ** 2, ("n·m²", "n m2", "n m^2")),
    Unit(
        "lbf in²",
        "bending stiffness",
        POUND * GRAVITY / 1000 * INCH**2,
        ("lbf·in²", "lbf in2", "lbf in^2"),
    ),
    Unit("h", "time", Fraction(1), ("hr", "hrs", "hour", "hours")),
    Unit("s", "time", Fraction(1, 3600), ("sec", "second", "seconds")),
    Unit("min", "time", Fraction(1, 60), ("mins", "minute", "minutes")),
    Unit("d", "time", Fraction(24), ("day", "days")),
    Unit("weeks", "time", Fraction(7 * 24), ("w", "wk", "wks", "week")),
    Unit("months", "time", YEAR / 12, ("mo", "month")),
    Unit("y", "time", YEAR, ("yr", "yrs", "year", "years")),
)

# dimension -> (how a sentence names it, what it looks like)
EXAMPLES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "length": ("a length", "0.3 mm or 5/64 in"),
        "angle": ("an angle", "2.5 deg"),
        "percent": ("a percentage", "43 %"),
        "temperature": ("a temperature", "21 C or 70 F"),
        "mass": ("a mass", "450 g or 16 oz"),
        "force": ("a force", "10 N or 2 lbf"),
        "cents": ("a difference in pitch", "-4 cents"),
        "count": ("a count", "3"),
        "frequency": ("a frequency", "110 Hz or A2"),
        "mass per length": ("a mass per length", "5.3 g/m or 0.0003 lb/in"),
        "density": ("a density", "7850 kg/m3"),
        "stress": ("a stress", "200 GPa or 25 N/mm2"),
        "moment": ("a moment", "9 N m or 80 lbf in"),
        "bending stiffness": ("a bending stiffness", "29 N m2 or 10000 lbf in2"),
        "time": ("a time", "12 min or 6 months"),
    }
)


def find_unit(spelling: str, dimension: str) -> Unit | None:
    """Return the unit of that spelling, one of `dimension` before any other.

    Capital letters only decide between dimensions (`4 c` are cents, `21 C` is a temperature); where
    the dimension is known they are not needed. One full stop at the end is ignored (`in.`).

    >>> find_unit("c", "temperature").name, find_unit("c", "length").name
    ('C', 'cents')
    """
    spelling = " ".join(spelling.removesuffix(".").split())
    folded = spelling.casefold()
    of_dimension = [unit for unit in UNITS if unit.dimension == dimension]
    for units in (of_dimension, UNITS):
        for unit in units:
            if spelling == unit.name or spelling in unit.spellings:
                return unit
        for unit in units:
            if folded == unit.name.casefold() or folded in unit.spellings:
                return unit
    return None


class UnitError(TailblockError, ValueError):
    """A text that is not the quantity that was wanted."""


class NotAQuantity(UnitError):
    """The text cannot be read as a number with a unit."""

    def __init__(self, given: str, dimension: str, why: str = "") -> None:
        self.given, self.dimension, self.why = given, dimension, why
        name, example = EXAMPLES[dimension]
        reason = f": {why}" if why else ""
        super().__init__(f"{given!r} is not {name}{reason}; write it like {example}")


class UnknownUnit(UnitError):
    """The number is followed by something that is no unit."""

    def __init__(self, given: str, unit: str, dimension: str) -> None:
        self.given, self.unit, self.dimension = given, unit, dimension
        name, example = EXAMPLES[dimension]
        super().__init__(f"{given!r}: {unit!r} is not a unit; {name} is wanted, such as {example}")


class UnitDoesNotFit(UnitError):
    """The unit is one of another dimension."""

    def __init__(self, given: str, found: str, wanted: str) -> None:
        self.given, self.found, self.wanted = given, found, wanted
        name, example = EXAMPLES[wanted]
        super().__init__(f"{given!r} is {EXAMPLES[found][0]}; {name} is wanted, such as {example}")


class UnitMissing(UnitError):
    """A number without a unit where none can be taken for granted."""

    def __init__(self, given: str, dimension: str) -> None:
        self.given, self.dimension = given, dimension
        name, example = EXAMPLES[dimension]
        super().__init__(f"{given!r} has no unit; {name} is wanted, such as {example}")


class UnitAmbiguous(UnitError):
    """A length without a unit that may be in inches as well as in millimetres."""

    def __init__(self, given: str, number: Fraction) -> None:
        self.given = given
        mm, inches = float(number * INCH), float(number / INCH)
        readings = f"in inches it is {mm:.2f} mm, in millimetres {inches:.4f} in"
        super().__init__(f"{given!r} has no unit: {readings}; write which is meant")
