"""What the hours of an option come to at the shop's rate, said.

In: the hours of an option and a `Shop`. Out: `Money`. Nothing here decides what the work is worth:
that is for the player.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.prices import average_materials, price
from tailblock.messages import _
from tailblock.report.conventions import money as money_by_locale
from tailblock.report.conventions import number
from tailblock.report.model import Money, MoneyLine
from tailblock.report.wording import percent, together

if TYPE_CHECKING:
    from decimal import Decimal

    from tailblock.advice.hours import Promise, WorkHours
    from tailblock.advice.prices import Price
    from tailblock.inspection.shop import Shop
    from tailblock.knowledge.checklist import Checklist


def amount(value: Decimal, currency: str, *, whole: bool = False) -> str:
    r"""Write an amount of money with its code, so that no line ends within it.

    `whole` leaves out what comes after the decimal mark.

    >>> from decimal import Decimal
    >>> amount(Decimal("1250.50"), "EUR"), amount(Decimal("1250.00"), "EUR", whole=True)
    ('1\xa0250.50\xa0EUR', '1\xa0250\xa0EUR')
    """
    local = money_by_locale(value, currency, whole=whole)
    if local is not None:
        return together(local)
    value = round(value, 0) if whole else value
    return together(f"{value:,f} {currency}").replace(",", "\N{NO-BREAK SPACE}")


def money(found: WorkHours, shop: Shop, checklist: Checklist) -> Money:
    """Return the prices of an option: of the average job, and what is enough for most."""
    materials = average_materials(found.pieces, shop)
    lines = [_line(_("The average job"), price(found.mean, materials, shop), shop)]
    lines += [
        _line(
            _("Enough for {share} of such jobs").format(share=percent(one.share)),
            price(one.hours, materials, shop),
            shop,
        )
        for one in found.quantiles
    ]
    notes = [_("A bench hour costs {rate}.").format(rate=amount(shop.rate, shop.currency))]
    if shop.minimum:
        notes.append(
            _("The least charge is {minimum}.").format(minimum=amount(shop.minimum, shop.currency))
        )
    if shop.materials:
        notes.append(_("Materials are the shop's allowances, each times the chance of its work."))
    if shop.tax is not None:
        notes.append(
            _("{tax} is {number}.").format(tax=shop.tax[0], number=number(f"{shop.tax[1]:f} %"))
        )
    if shop.rounding is not None:
        notes.append(
            _("Totals are multiples of {rounding}.").format(
                rounding=amount(shop.rounding, shop.currency)
            )
        )
    notes += shop.unknown_materials(checklist)
    return Money(
        currency=shop.currency,
        tax=shop.tax[0] if shop.tax is not None else "",
        lines=tuple(lines),
        notes=tuple(notes),
    )


def totals(found: Promise | WorkHours, shop: Shop) -> tuple[str, ...]:
    """Return what an option comes to where its hours are enough for each share of such jobs.

    In whole units of the currency if all of them are.
    """
    materials = average_materials(found.pieces, shop)
    found_totals = [price(one.hours, materials, shop).total for one in found.quantiles]
    whole = all(one == one.to_integral_value() for one in found_totals)
    return tuple(amount(one, shop.currency, whole=whole) for one in found_totals)


def _line(label: str, found: Price, shop: Shop) -> MoneyLine:
    def said(value: Decimal) -> str:
        return amount(value, shop.currency)

    return MoneyLine(
        label=label,
        hours=number(f"{found.hours}"),
        labour=said(found.labour),
        minimum=found.minimum,
        materials=said(found.materials),
        tax=said(found.tax),
        rounding=said(found.rounding),
        total=said(found.total),
    )
