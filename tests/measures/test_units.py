"""Quantities are read as people write them."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.errors import TailblockError
from tailblock.measures import (
    NotAQuantity,
    Quantity,
    UnitDoesNotFit,
    UnitError,
    UnitMissing,
    UnknownUnit,
    days,
    parse,
    parse_duration,
)
from tailblock.measures.definitions import EXAMPLES, UNITS, Unit, UnitAmbiguous, find_unit

# The right column is exact: 1 in = 25.4 mm by definition (international agreement of 1959).
LENGTHS = [
    ("5/64", 1.984375, "in", True),
    ("5/64 in", 1.984375, "in", False),
    ("5/64ths", 1.984375, "in", True),
    ("5/64ths in", 1.984375, "in", False),
    ("3/32nds", 2.38125, "in", True),
    ("7.5/64 in", 2.9765625, "in", False),
    ('1 3/16"', 30.1625, "in", False),
    ('1-3/16"', 30.1625, "in", False),
    ("1½ in", 38.1, "in", False),
    ("½", 12.7, "in", True),
    ('.012"', 0.3048, "in", False),
    ("0.012 in", 0.3048, "in", False),
    ("0.012 in.", 0.3048, "in", False),
    ("12 thou", 0.3048, "thou", False),
    ("12 thousandths", 0.3048, "thou", False),
    ("0.3 mm", 0.3, "mm", False),
    ("0,3 mm", 0.3, "mm", False),
    ("0,300 mm", 0.3, "mm", False),
    ("2 mm", 2.0, "mm", False),
    ("2mm", 2.0, "mm", False),
    ("2 MM", 2.0, "mm", False),
    ("2", 2.0, "mm", True),
    ("-0.5 mm", -0.5, "mm", False),
    ("−0.5 mm", -0.5, "mm", False),
    ("+0.5 mm", 0.5, "mm", False),
    ("2 cm", 20.0, "cm", False),
    ("0.648 m", 648.0, "m", False),
    ("25 ft", 7620.0, "ft", False),
    ("25'", 7620.0, "ft", False),
    ("12.5 feet", 3810.0, "ft", False),
    (".5", 0.5, "mm", True),
    (",5", 0.5, "mm", True),
    ("0,165", 0.165, "mm", True),
    ("1/8 inch", 3.175, "in", False),
    ("1⁄8 inch", 3.175, "in", False),
    ('3/32"', 2.38125, "in", False),
    ("3/32”", 2.38125, "in", False),
    ("3/32″", 2.38125, "in", False),
    ("3/32''", 2.38125, "in", False),
    ("3/32’’", 2.38125, "in", False),
    ("-1/64 in", -0.396875, "in", False),
    ("2\u00a0mm", 2.0, "mm", False),
    ("\u202f2 mm\t", 2.0, "mm", False),
]


@pytest.mark.parametrize(("text", "mm", "unit", "assumed"), LENGTHS)
def test_lengths_as_people_write_them(text: str, mm: float, unit: str, assumed: bool) -> None:
    read = parse(text, "length", "mm")
    assert (read.quantity, read.unit, read.assumed) == (Quantity(mm, "length"), unit, assumed)


# Factors: NIST SP 811, appendix B (exact ones: pound, standard gravity, kelvin); degrees
# Fahrenheit by C = (F - 32)/1.8; year = 365.25 days.
OTHERS = [
    ("2.5 deg", "angle", 2.5),
    ("2.5°", "angle", 2.5),
    ("2 degrees", "angle", 2.0),
    ("43 %", "percent", 43.0),
    ("43%", "percent", 43.0),
    ("43% RH", "percent", 43.0),
    ("43 per cent", "percent", 43.0),
    ("21 C", "temperature", 21.0),
    ("21 c", "temperature", 21.0),
    ("21 °C", "temperature", 21.0),
    ("21℃", "temperature", 21.0),
    ("21 ºC", "temperature", 21.0),
    ("70 F", "temperature", float(Fraction(380, 18))),
    ("-40 °F", "temperature", -40.0),
    ("212 F", "temperature", 100.0),
    ("273.15 K", "temperature", 0.0),
    ("450 g", "mass", 450.0),
    ("2.1 kg", "mass", 2100.0),
    ("1 lb", "mass", 453.59237),
    ("16 oz", "mass", 453.59237),
    ("10 N", "force", 10.0),
    ("1 kgf", "force", 9.80665),
    ("1 lbf", "force", 4.4482216152605),
    ("-4 c", "cents", -4.0),
    ("-4 C", "cents", -4.0),
    ("4 cents", "cents", 4.0),
    ("3", "count", 3.0),
    ("2 h", "time", 2.0),
    ("12 min", "time", 0.2),
    ("30 s", "time", float(Fraction(1, 120))),
    ("60 d", "time", 1440.0),
    ("3 weeks", "time", 504.0),
    ("6 months", "time", 4383.0),
    ("1 y", "time", 8766.0),
    ("1/2 h", "time", 0.5),
    ("440 Hz", "frequency", 440.0),
    ("A2", "frequency", 110.0),  # equal temperament at 440 Hz (ISO 16)
    ("e2", "frequency", pytest.approx(82.407, abs=0.001)),
    ("F#3", "frequency", pytest.approx(184.997, abs=0.001)),
    ("5.3 g/m", "mass per length", 5.3),
    ("0.0003 lb/in", "mass per length", pytest.approx(0.0003 * 453.59237 / 0.0254)),
    ("9 N m", "moment", 9000.0),
    ("9 N·m", "moment", 9000.0),
    ("8400 N mm", "moment", 8400.0),
    ("1 lbf in", "moment", 112.9848290276167),  # 4.4482216152605 N times 25.4 mm
    ("29.5 N m²", "bending stiffness", 2.95e7),
    ("29.5 N m2", "bending stiffness", 2.95e7),
    ("1 lbf in2", "bending stiffness", 2869.8146573014642),
    ("7850 kg/m3", "density", 7850.0),
    ("7.85 g/cm³", "density", 7850.0),
    ("25 N/mm2", "stress", 25.0),
    ("10.8 GPa", "stress", 10800.0),
    ("1570000 psi", "stress", pytest.approx(10824.768950273327)),  # 1.57e6 psi = 10.825 GPa
]


@pytest.mark.parametrize(("text", "dimension", "base"), OTHERS)
def test_other_dimensions(text: str, dimension: str, base: float) -> None:
    assert parse(text, dimension).quantity == Quantity(base, dimension)


@pytest.mark.parametrize(
    ("text", "error", "says"),
    [
        ("5 kg", UnitDoesNotFit, "'5 kg' is a mass; a length is wanted, such as 0.3 mm or 5/64 in"),
        ("43 %", UnitDoesNotFit, "is a percentage; a length is wanted"),
        ("5 furlong", UnknownUnit, "'5 furlong': 'furlong' is not a unit"),
        ("5 mm in", UnknownUnit, "'mm in' is not a unit"),
        ("5² mm", UnknownUnit, "'² mm' is not a unit"),
        ("5/46", UnitMissing, "'5/46' has no unit"),
        ("1 mm 2 in", NotAQuantity, "there is more than one number in it"),
        ("1 1/8 3/8 in", NotAQuantity, "there is more than one number in it"),
        ("1,000 mm", NotAQuantity, "the comma may stand for a decimal point or for thousands"),
        ("5/0", NotAQuantity, "the denominator is zero"),
        ("1 17/16 in", NotAQuantity, "the fraction beside the whole number exceeds one"),
        ("1//2", NotAQuantity, "write it like 0.3 mm or 5/64 in"),
        ("1/2/3", NotAQuantity, "is not a length"),
        ("1.2.3 mm", NotAQuantity, "is not a length"),
        ("--1 mm", NotAQuantity, "is not a length"),
        ("1e400", NotAQuantity, "is not a length"),
        ("1e3 mm", NotAQuantity, "is not a length"),
        ("9" * 400, NotAQuantity, "is not a length"),
        ("٣ mm", NotAQuantity, "is not a length"),
        ("nan", NotAQuantity, "is not a length"),
        ("-inf", NotAQuantity, "is not a length"),
        ("mm", NotAQuantity, "is not a length"),
        ("", NotAQuantity, "'' is not a length"),
        ("  ", NotAQuantity, "is not a length"),
    ],
)
def test_what_is_not_a_length_says_so(text: str, error: type[UnitError], says: str) -> None:
    with pytest.raises(error) as caught:
        parse(text, "length", "mm")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)
    assert isinstance(caught.value, TailblockError)


def test_a_bare_number_without_a_default_lacks_its_unit() -> None:
    with pytest.raises(UnitMissing, match=r"'2' has no unit; a length is wanted"):
        parse("2", "length")


@pytest.mark.parametrize("text", [".012", "0.012", ".0125", "-.012"])
def test_bare_thousandths_are_inches_or_millimetres(text: str) -> None:
    """`.012` is how a feeler gauge in inches is marked; in millimetres it would be nothing."""
    with pytest.raises(UnitAmbiguous, match=r"has no unit: in inches it is -?0\.3"):
        parse(text, "length", "mm")
    assert parse(text, "length", "in").unit == "in"  # no question where inches are the custom
    assert parse(text, "length", "mm", difference=True).assumed  # a spread follows its value


def test_an_ambiguous_length_says_both_readings() -> None:
    """Worked here: 0.5 in = 12.70 mm, 0.5 mm = 0.0197 in."""
    with pytest.raises(UnitAmbiguous) as caught:
        parse(".500", "length", "mm")
    assert str(caught.value) == (
        "'.500' has no unit: in inches it is 12.70 mm, in millimetres 0.0197 in; "
        "write which is meant"
    )
    with pytest.raises(UnitMissing):
        parse(".5", "length")


def test_pounds_are_no_force() -> None:
    with pytest.raises(UnitDoesNotFit, match=r"'5 lb' is a mass; a force is wanted.* 2 lbf"):
        parse("5 lb", "force")


def test_nothing_is_colder_than_absolute_zero() -> None:
    assert parse("-273.15 C", "temperature").quantity.value == -273.15
    with pytest.raises(NotAQuantity, match="absolute zero"):
        parse("-500 F", "temperature")


def test_a_default_unit_of_another_dimension_is_an_error() -> None:
    with pytest.raises(UnitDoesNotFit):
        parse("2", "length", "kg")


def test_a_difference_of_temperatures_has_no_offset() -> None:
    assert parse("9 F", "temperature", difference=True).quantity.value == 5.0
    assert parse("0.5 K", "temperature", difference=True).quantity.value == 0.5


def test_durations_in_days() -> None:
    assert parse_duration("21 d") == 21.0
    assert parse_duration("10 y") == 3652.5
    assert days(Quantity(12.0, "time")) == 0.5
    with pytest.raises(UnitMissing, match="such as 12 min or 6 months"):
        parse_duration("6")


@pytest.mark.parametrize("dimension", EXAMPLES)
def test_the_examples_in_errors_can_be_read(dimension: str) -> None:
    for text in EXAMPLES[dimension][1].split(" or "):
        assert parse(text, dimension).quantity.dimension == dimension


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.name)
def test_every_spelling_means_its_unit(unit: Unit) -> None:
    for spelling in (unit.name, *unit.spellings):
        assert find_unit(spelling, unit.dimension) is unit


@given(st.sampled_from([unit for unit in UNITS if unit.name != "1"]), st.integers(-99999, 99999))
def test_conversion_is_exact_to_the_last_float(unit: Unit, thousandths: int) -> None:
    written = f"{thousandths / 1000:.3f} {unit.name}"
    exact = Fraction(thousandths, 1000) * unit.factor
    assert parse(written, unit.dimension, difference=True).quantity.value == float(exact)


@given(st.text(max_size=50), st.sampled_from(sorted(EXAMPLES)))
def test_any_text_is_a_finite_quantity_or_an_error(text: str, dimension: str) -> None:
    with suppress(UnitError):
        assert isfinite(parse(text, dimension).quantity.value)


@given(st.from_regex(r"[-+]?[0-9./, ]{1,12}( ?(mm|in|\"|thou|C|%))?", fullmatch=True))
def test_nearly_right_lengths_are_finite_or_an_error(text: str) -> None:
    with suppress(UnitError):
        assert isfinite(parse(text, "length", "mm").quantity.value)
