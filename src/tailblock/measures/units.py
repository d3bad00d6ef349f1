"""Quantities as people write them.

In: a text such as `5/64`, `1 3/16"`, `0,3 mm`, `70 F`, with the dimension that is wanted. Out: a
`Quantity` in the base unit of its dimension (see `definitions`), or a `UnitError` whose sentence
says what was given and what would be right. The way back, for people, is `show` (in `showing`).
Conversion is exact (rational) up to the last step into a float.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from tailblock.measures.definitions import (
    LONGEST,
    NotAQuantity,
    Quantity,
    Unit,
    UnitAmbiguous,
    UnitDoesNotFit,
    UnitError,
    UnitMissing,
    UnknownUnit,
    find_unit,
)
from tailblock.measures.pitch import is_note, note_frequency
from tailblock.measures.showing import both_systems, show

__all__ = [
    "NotAQuantity",
    "Parsed",
    "Quantity",
    "UnitAmbiguous",
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

SHOP_DIVISIONS = frozenset({2, 4, 8, 16, 32, 64, 128})  # bare fractions with these are inches

_SAME = str.maketrans(
    dict.fromkeys("“”„‟″〃＂", '"')
    | dict.fromkeys("‘’‚‛′＇´`", "'")
    | dict.fromkeys("−–‐‑", "-")
    | dict.fromkeys("º˚", "°")
    | {"⁄": "/", "∕": "/", "％": "%", "℃": "°C", "℉": "°F"}
)
_DECIMAL = r"(?:\d+(?:[.,]\d*)?|[.,]\d+)"
_FRACTION = (
    rf"(?:(?P<whole>\d+)(?:\s+|-))?(?P<over>{_DECIMAL})\s*/\s*(?P<under>\d+)(?:(?:th|nd)s?\b)?"
)
_NUMBER = re.compile(
    rf"(?P<sign>[+-]?)\s*(?:{_FRACTION}|(?P<decimal>{_DECIMAL}))(?![\d.,/eE+-])\s*(?P<unit>.*)",
    re.ASCII,
)
_THOUSANDTHS = re.compile(r"0?\.\d{3,}", re.ASCII)  # `.012`: as a feeler gauge in inches is marked
_THOUSANDS = re.compile(r"0*[1-9]\d*,\d{3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Parsed:
    """What was read: the quantity, the unit it was written in, and whether that was assumed."""

    quantity: Quantity
    unit: str
    assumed: bool


# A checklist writes the same few hundred limits and steps, which every reading asks for again.
@lru_cache(maxsize=4096)
def parse(
    text: str, dimension: str, default_unit: str | None = None, *, difference: bool = False
) -> Parsed:
    """Read a quantity as people write it.

    Parameters
    ----------
    text
        A number, decimal (point or comma) or a fraction, and a unit or none; for a frequency also a
        note with its octave (`E2`, `F#3`), A4 being 440 Hz.
    dimension
        One of length, angle, percent, temperature, mass, force, cents, count, time, frequency, mass
        per length, density, stress, moment, bending stiffness.
    default_unit
        Taken for a bare number; without it a bare number is an error (a count needs none). A bare
        length with a denominator of 2, 4, ... 128 is in inches whatever the default. A bare length
        in thousandths (`.012`) is not taken for millimetres: it is ambiguous, and an error.
    difference
        A step, a spread or a tolerance: `9 F` is then 5 degrees Celsius, not -12.8.

    Returns
    -------
    Parsed
        The quantity in the base unit, the unit that was used, and `assumed` if it was not written.

    Raises
    ------
    UnitError
        Not a number, an unknown unit, a unit of another dimension, no unit where it has to be
        written, or an ambiguous comma.

    >>> parse("5/64", "length", "mm")
    Parsed(quantity=Quantity(value=1.984375, dimension='length'), unit='in', assumed=True)
    >>> parse("0,3 mm", "length").quantity.value
    0.3
    """
    if dimension == "frequency" and not difference and is_note(text):
        return Parsed(Quantity(note_frequency(text), dimension), "Hz", assumed=False)
    found = _NUMBER.fullmatch(_plain(text)) if len(text) <= LONGEST else None
    if found is None:
        raise NotAQuantity(text[:LONGEST], dimension)
    number = _number(found, text, dimension)
    unit, assumed = _unit(found, text, dimension, default_unit)
    bare_mm = assumed and unit.name == "mm" and not difference
    if bare_mm and _THOUSANDTHS.fullmatch(found["decimal"]):
        raise UnitAmbiguous(text, number)
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
