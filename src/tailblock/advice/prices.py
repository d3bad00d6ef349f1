"""What a number of bench hours costs at a shop, to the last digit.

In: hours, what materials cost, a `Shop`. Out: a `Price` whose lines add up to its total. All
amounts are `Decimal`; half of the last digit is rounded up (ROUND_HALF_UP), as in everyday
accounting.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tailblock.advice.hours import PieceHours
    from tailblock.inspection.shop import Shop

_HUNDREDTH = Decimal("0.01")  # of an hour


@dataclass(frozen=True, slots=True)
class Price:
    """An amount of money in its lines, which add up: labour, materials, tax, rounding.

    `hours` are those that the labour is charged for; `minimum` says that the least charge of the
    shop is more than these hours come to.
    """

    hours: Decimal
    labour: Decimal
    minimum: bool
    materials: Decimal
    tax: Decimal
    rounding: Decimal

    @property
    def total(self) -> Decimal:
        """Return what is to be paid."""
        return self.labour + self.materials + self.tax + self.rounding


def price(hours: float, materials: Decimal, shop: Shop) -> Price:
    """Return what some hours of work cost.

    Parameters
    ----------
    hours
        Bench hours; charged to the hundredth of an hour.
    materials
        What the materials come to.
    """
    charged = Decimal(repr(hours)).quantize(_HUNDREDTH, ROUND_HALF_UP)
    labour = to_minor_unit(charged * shop.rate, shop)
    minimum = labour < shop.minimum
    labour = max(labour, to_minor_unit(shop.minimum, shop))
    materials = to_minor_unit(materials, shop)
    tax = Decimal(0)
    if shop.tax is not None:
        tax = (labour + materials) * shop.tax[1] / 100
    tax = to_minor_unit(tax, shop)
    before = labour + materials + tax
    return Price(charged, labour, minimum, materials, tax, _to_multiple(before, shop) - before)


def average_materials(pieces: Iterable[PieceHours], shop: Shop) -> Decimal:
    """Return the sum of the allowances for materials, each times the chance of its work."""
    return sum(
        (
            shop.materials[piece.remedy] * Decimal(repr(piece.chance))
            for piece in pieces
            if piece.remedy in shop.materials
        ),
        Decimal(0),
    )


def to_minor_unit(amount: Decimal, shop: Shop) -> Decimal:
    """Return an amount with as many decimals as the currency has."""
    return amount.quantize(Decimal(1).scaleb(-shop.decimals), ROUND_HALF_UP)


def _to_multiple(amount: Decimal, shop: Shop) -> Decimal:
    if shop.rounding is None:
        return amount
    times = (amount / shop.rounding).quantize(Decimal(1), ROUND_HALF_UP)
    return to_minor_unit(times * shop.rounding, shop)
