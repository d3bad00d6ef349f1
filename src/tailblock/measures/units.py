"""Quantities as people write them, and as people like to read them.

In: a text such as `5/64`, `1 3/16"`, `0,3 mm`, `70 F`, with the dimension that is wanted. Out: a
`Quantity` in the base unit of its dimension (see `definitions`), or a `UnitError` whose sentence
says what was given and what would be right. The way back, for people, is `show`. Conversion is
exact (rational) up to the last step into a float.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from math import floor, log10

from tailblock.measures.definitions import (
    INCH,
    YEAR,
    NotAQuantity,
    Unit,
    UnitDoesNotFit,
    UnitError,
    UnitMissing,
    UnknownUnit,
    find_unit,
)

__all__ = [
    "NotAQuantity",
    "Parsed",
    "Quantity",
    "UnitDoesNotFit",
    "UnitError",
    "UnitMissing",
    "UnknownUnit",
    "both_systems",
    "days",
    "parse",
    "parse_duration",
    "show",
]

LONGEST = 40  # characters; nobody writes a longer quantity, and no float overflows below it
SHOP_DIVISIONS = frozenset({2, 4, 8, 16, 32, 64, 128})  # bare fractions with these are inches

_SAME = str.maketrans(
    dict.fromkeys("“”„‟″〃＂", '"')
    | dict.fromkeys("‘’‚‛′＇´`", "'")
    | dict.fromkeys("−–‐‑", "-")
    | dict.fromkeys("º˚", "°")
    | {"⁄": "/", "∕": "/", "％": "%", "℃": "°C", "℉": "°F"}
)
_DECIMAL = r"(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_FRACTION = rf"(?:(?P<whole>\d+)(?:\s+|-))?(?P<over>{_DECIMAL})\s*/\s*(?P<under>\d+)"
_NUMBER = re.compile(
    rf"(?P<sign>[+-]?)\s*(?:{_FRACTION}|(?P<decimal>{_DECIMAL}))(?![\d.,/eE+-])\s*(?P<unit>.*)",
    re.ASCII,
)
_SIGNS = {
    "angle": "°",
    "percent": " %",
    "cents": " cents",
    "count": "",
    "frequency": " Hz",
    "mass per length": " g/m",
    "density": " kg/m³",
    "stress": " N/mm²",
}
_ROOM = Context(prec=2 * LONGEST)  # for any number that can be written in so few characters
_THOUSANDS = re.compile(r"0*[1-9]\d*,\d{3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in the base unit of its dimension."""

    value: float
    dimension: str


@dataclass(frozen=True, slots=True)
class Parsed:
    """What was read: the quantity, the unit it was written in, and whether that was assumed."""

    quantity: Quantity
    unit: str
    assumed: bool


def parse(
    text: str, dimension: str, default_unit: str | None = None, *, difference: bool = False
) -> Parsed:
    """Read a quantity as people write it.

    Parameters
    ----------
    text
        A number, decimal (point or comma) or a fraction, and a unit or none.
    dimension
        One of length, angle, percent, temperature, mass, force, cents, count, time, frequency, mass
        per length, density, stress.
    default_unit
        Taken for a bare number; without it a bare number is an error (a count needs none). A bare
        length with a denominator of 2, 4, ... 128 is in inches whatever the default.
    difference
        A step, a spread or a tolerance: `9 F` is then 5 degrees Celsius, not -12.8.

    Returns
    -------
    Parsed
        The quantity in the base unit, the unit that was used, and `assumed` if it was not written.

    Raises
    ------
    UnitError
        Not a number, an unknown unit, a unit of another dimension, no unit, or an ambiguous comma.

    >>> parse("5/64", "length", "mm")
    Parsed(quantity=Quantity(value=1.984375, dimension='length'), unit='in', assumed=True)
    >>> parse("0,3 mm", "length").quantity.value
    0.3
    """
    found = _NUMBER.fullmatch(_plain(text)) if len(text) <= LONGEST else None
    if found is None:
        raise NotAQuantity(text[:LONGEST], dimension)
    number = _number(found, text, dimension)
    unit, assumed = _unit(found, text, dimension, default_unit)
    value = number * unit.factor + (0 if difference else unit.offset)
    if dimension == "temperature" and not difference and value < Fraction("-273.15"):
        raise NotAQuantity(text, dimension, "it is below absolute zero")
    return Parsed(Quantity(float(value), dimension), unit.name, assumed)


def parse_duration(text: str) -> float:
    """Read a duration with its unit and return days.

    >>> parse_duration("3 weeks"), parse_duration("12 h")
    (21.0, 0.5)
    """
    return days(parse(text, "time").quantity)


def days(quantity: Quantity) -> float:
    """Return a time (held in hours) in days."""
    return quantity.value / 24


def _plain(text: str) -> str:
    """Bring typographic signs and spaces to their plain form; `1½` becomes `1 1/2`."""
    spelled = []
    for sign in text.translate(_SAME):
        if unicodedata.decomposition(sign).startswith("<fraction>"):
            spelled.append(" " + unicodedata.normalize("NFKC", sign).replace("⁄", "/"))
        else:
            spelled.append(sign)
    return " ".join("".join(spelled).split())


def _number(found: re.Match[str], text: str, dimension: str) -> Fraction:
    """Return the exact number of a match, or say why it is none."""
    decimal = found["decimal"] or found["over"]
    if _THOUSANDS.fullmatch(decimal):
        why = "the comma may stand for a decimal point or for thousands"
        raise NotAQuantity(text, dimension, why)
    number = Fraction(decimal.replace(",", "."))
    if found["under"]:
        under = int(found["under"])
        if under == 0:
            raise NotAQuantity(text, dimension, "the denominator is zero")
        if found["whole"] and number >= under:
            raise NotAQuantity(text, dimension, "the fraction beside the whole number exceeds one")
        number = number / under + int(found["whole"] or 0)
    return -number if found["sign"] == "-" else number


def _unit(
    found: re.Match[str], text: str, dimension: str, default_unit: str | None
) -> tuple[Unit, bool]:
    """Return the unit of a match and whether it had to be assumed."""
    written = found["unit"]
    if written:
        if re.search(r"\d", written) and find_unit(written, dimension) is None:  # not `kg/m3`
            raise NotAQuantity(text, dimension, "there is more than one number in it")
        return _fitting(written, text, dimension), False
    if dimension == "length" and found["under"]:
        if int(found["under"]) not in SHOP_DIVISIONS:
            raise UnitMissing(text, dimension)
        return _fitting("in", text, dimension), True
    if dimension == "count":
        default_unit = default_unit or "1"
    if default_unit is None:
        raise UnitMissing(text, dimension)
    return _fitting(default_unit, text, dimension), True


def _fitting(spelling: str, text: str, dimension: str) -> Unit:
    """Return the unit of that spelling if it is one of the dimension."""
    unit = find_unit(spelling, dimension)
    if unit is None:
        raise UnknownUnit(text, spelling, dimension)
    if unit.dimension != dimension:
        raise UnitDoesNotFit(text, unit.dimension, dimension)
    return unit


def both_systems(mm: float) -> str:
    """Write a length for people, in millimetres and in inches.

    Rounding (halves away from zero): millimetres to 0.01, from 100 mm on to 0.1. Below 1 mm the
    inches are thousandths; from there on they go to the nearest half 64th, reduced where it is
    whole.

    >>> both_systems(2.78), both_systems(0.3), both_systems(647.7)
    ('2.78 mm (7/64 in)', '0.30 mm (.012 in)', '647.7 mm (25 1/2 in)')
    >>> both_systems(3.0), both_systems(-3.175)
    ('3.00 mm (7.5/64 in)', '-3.18 mm (-1/8 in)')
    """
    inches = mm / float(INCH)
    metric = _rounded(mm, 1 if abs(mm) >= 100 else 2)
    shop = _sixty_fourths(inches) if abs(mm) >= 1 else _rounded(inches, 3).replace("0.", ".", 1)
    return f"{metric} mm ({shop} in)"


def _sixty_fourths(inches: float) -> str:
    """Write inches with the nearest half 64th: `7/64`, `7.5/64`, `1/8`, `25 1/2`."""
    whole, rest = divmod(floor(abs(inches) * 128 + 0.5), 128)
    parts = [str(whole)] if whole else []
    if rest % 2:
        parts.append(f"{rest / 2:.1f}/64")
    elif rest:
        parts.append(str(Fraction(rest, 128)))
    return ("-" if inches < 0 else "") + " ".join(parts)


def _rounded(value: float, decimals: int) -> str:
    """Round the number as it is written, halves away from zero, and never to a negative zero."""
    step = Decimal(1).scaleb(-decimals)
    rounded = Decimal(repr(value)).quantize(step, ROUND_HALF_UP, _ROOM)
    return f"{abs(rounded) if rounded == 0 else rounded:f}"


def show(quantity: Quantity) -> str:
    """Write any quantity for people, in both systems of units where there are two.

    Rounding: lengths as in `both_systems`; what is not named here to 0.1; a count, a stress or a
    mass per length below 1 to three figures, at most to a millionth; mass to 1 g or 0.1 oz,
    from 1 kg on to 0.01 kg or 0.01 lb; force to 1 N or 0.1 lbf; time to 0.1 of the largest unit of
    which there are two or more. Zeros at the end are left out except in lengths.

    >>> show(Quantity(21.0, "temperature")), show(Quantity(2.5, "angle"))
    ('21 °C (69.8 °F)', '2.5°')
    """
    value = quantity.value
    match quantity.dimension:
        case "length":
            return both_systems(value)
        case "temperature":
            return f"{_short(value)} °C ({_short(value * 1.8 + 32)} °F)"
        case "mass":
            return _show_mass(value)
        case "force":
            return f"{_short(value, 0)} N ({_short(value / 4.4482216152605)} lbf)"
        case "time":
            return _show_time(value)
        case "count" | "mass per length" | "stress" as dimension:
            return _short(value, _decimals_of_three(value)) + _SIGNS[dimension]
        case dimension:
            return _short(value) + _SIGNS[dimension]


def _decimals_of_three(value: float) -> int:
    """Return how many decimals show three figures of a number below 1; else one."""
    size = abs(value)
    return min(6, 2 - floor(log10(size))) if 0 < size < 1 else 1


def _show_mass(grams: float) -> str:
    if abs(grams) >= 1000:
        return f"{_short(grams / 1000, 2)} kg ({_short(grams / 453.59237, 2)} lb)"
    return f"{_short(grams, 0)} g ({_short(grams * 16 / 453.59237)} oz)"


def _show_time(hours: float) -> str:
    steps = ((float(YEAR), "years"), (float(YEAR) / 12, "months"), (24.0, "days"), (1.0, "h"))
    for size, name in (*steps, (1 / 60, "min")):
        if abs(hours) >= 2 * size:
            return f"{_short(hours / size)} {name}"
    return f"{_short(hours * 3600)} s"


def _short(value: float, decimals: int = 1) -> str:
    """Round, and leave out zeros at the end."""
    text = _rounded(value, decimals)
    return text.rstrip("0").removesuffix(".") if "." in text else text
