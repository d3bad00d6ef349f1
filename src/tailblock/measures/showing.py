"""Quantities as people like to read them.

In: a `Quantity`, or a length in mm. Out: a text, in both systems of units where there are two.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from math import floor, log10
from typing import TYPE_CHECKING

from tailblock.measures.definitions import GRAVITY, INCH, LONGEST, POUND, YEAR

if TYPE_CHECKING:
    from tailblock.measures.definitions import Quantity

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
_POUND_FORCE = float(POUND * GRAVITY / 1000)  # newtons
_ROOM = Context(prec=2 * LONGEST)  # for any number that can be written in so few characters


def both_systems(mm: float) -> str:
    """Write a length for people, in millimetres and in inches.

    Rounding (halves away from zero): millimetres to 0.01, from 100 mm on to 0.1. Below 1 mm the
    inches are thousandths, with one figure more where they would round to nothing; from there on
    they go to the nearest half 64th, reduced where it is whole.

    >>> both_systems(2.78), both_systems(0.3), both_systems(647.7)
    ('2.78 mm (7/64 in)', '0.30 mm (.012 in)', '647.7 mm (25 1/2 in)')
    >>> both_systems(3.0), both_systems(-3.175)
    ('3.00 mm (7.5/64 in)', '-3.18 mm (-1/8 in)')
    >>> both_systems(0.01), both_systems(0.0)
    ('0.01 mm (.0004 in)', '0.00 mm (.000 in)')
    """
    inches = mm / float(INCH)
    metric = _rounded(mm, 1 if abs(mm) >= 100 else 2)
    shop = _sixty_fourths(inches) if abs(mm) >= 1 else _thousandths(inches)
    return f"{metric} mm ({shop} in)"


def _thousandths(inches: float) -> str:
    decimals = 4 if 0.00005 <= abs(inches) < 0.0005 else 3
    return _rounded(inches, decimals).replace("0.", ".", 1)


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

    Rounding: lengths as in `both_systems`; what is not named here to 0.1; a count, a stress, a
    moment, a bending stiffness or a mass per length below 1 to three figures, at most to a
    millionth; mass to 1 g or 0.1 oz, from 1 kg on to 0.01 kg or 0.01 lb; force to 1 N or 0.1 lbf;
    time to 0.1 of the largest unit of which there are two or more. Zeros at the end are left out
    except in lengths.

    >>> from tailblock.measures.definitions import Quantity
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
            return f"{_short(value, 0)} N ({_short(value / _POUND_FORCE)} lbf)"
        case "moment" | "bending stiffness" as dimension:
            return _show_bending(value, 1 if dimension == "moment" else 2)
        case "time":
            return _show_time(value)
        case "count" | "mass per length" | "stress" as dimension:
            return _three_figures(value) + _SIGNS[dimension]
        case dimension:
            return _short(value) + _SIGNS[dimension]


def _show_bending(value: float, power: int) -> str:
    """Write a force times a length, or times its square."""
    sign = "²" if power == 2 else ""
    metric = _three_figures(value / 1000**power)
    shop = _three_figures(value / _POUND_FORCE / float(INCH**power))
    return f"{metric} N m{sign} ({shop} lbf in{sign})"


def _three_figures(value: float) -> str:
    """Write a number below 1 with three figures, at most to a millionth, any other to 0.1."""
    size = abs(value)
    return _short(value, min(6, 2 - floor(log10(size))) if 0 < size < 1 else 1)


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
