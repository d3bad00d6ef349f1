"""Prices to the last digit."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice.hours import PieceHours
from tailblock.advice.prices import average_materials, price
from tailblock.inspection.shop import Shop

SHOP = Shop(
    path=Path("shop.yaml"),
    name="",
    address=(),
    currency="EUR",
    decimals=2,
    rate=Decimal("62.50"),
    minimum=Decimal(40),
    materials={"reglue": Decimal("12.10")},
    tax=("VAT", Decimal(19)),
    rounding=Decimal(5),
    places={},
)
PLAIN = replace(SHOP, minimum=Decimal(0), tax=None, rounding=None)


@pytest.mark.parametrize(
    ("shop", "hours", "materials", "lines", "total"),
    [
        # by hand: 3.67 h x 62.50 = 229.375 -> 229.38; + 12.10 = 241.48; 19 % = 45.8812 -> 45.88;
        # 287.36 -> 285, the nearest multiple of 5
        (SHOP, 3.6667, "12.10", ("229.38", "12.10", "45.88", "-2.36"), "285.00"),
        # 0.5 h x 62.50 = 31.25 is less than the least charge of 40; 19 % of it is 7.60
        (SHOP, 0.5, "0", ("40.00", "0.00", "7.60", "2.40"), "50.00"),
        # half of the last digit goes up: 0.01 h x 62.50 = 0.625
        (PLAIN, 0.01, "0", ("0.63", "0.00", "0.00", "0.00"), "0.63"),
        # a currency without a minor unit: 1.25 h x 6010 = 7512.5
        (replace(PLAIN, currency="JPY", decimals=0, rate=Decimal(6010)), 1.25, "0",
         ("7513", "0", "0", "0"), "7513"),
        # a thousandth as minor unit
        (replace(PLAIN, currency="KWD", decimals=3, rate=Decimal("9.125")), 1.11, "1.0005",
         ("10.129", "1.001", "0.000", "0.000"), "11.130"),
    ],
    ids=["all lines", "least charge", "half up", "no minor unit", "three decimals"],
)  # fmt: skip
def test_the_lines_of_a_price(
    shop: Shop, hours: float, materials: str, lines: tuple[str, ...], total: str
) -> None:
    found = price(hours, Decimal(materials), shop)
    said = (found.labour, found.materials, found.tax, found.rounding)
    assert tuple(str(amount) for amount in said) == lines
    assert str(found.total) == total


def test_the_least_charge_is_marked() -> None:
    assert price(0.5, Decimal(0), SHOP).minimum
    assert not price(5, Decimal(0), SHOP).minimum


@given(
    st.floats(0, 500), st.decimals(0, 5000, places=3), st.sampled_from(["0.05", "1", "5", "0.03"])
)
def test_the_lines_add_up_to_a_multiple_within_half_of_it(
    hours: float, materials: Decimal, rounding: str
) -> None:
    found = price(hours, materials, replace(SHOP, rounding=Decimal(rounding)))
    assert found.labour + found.materials + found.tax + found.rounding == found.total
    assert found.total % Decimal(rounding) == 0
    assert abs(found.rounding) <= Decimal(rounding) / 2


def test_materials_count_with_the_chance_of_their_work() -> None:
    piece = PieceHours("reglue", 0.5, 1, 2, 3, 2, planned=True, revealed_by=())
    other = replace(piece, remedy="tap")
    assert average_materials([piece, other], SHOP) == Decimal("6.05")
