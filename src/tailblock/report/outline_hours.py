"""The hours of the work and what they come to as an outline.

In: a `Report`, or its `Money`. Out: blocks. Nothing is worded here but titles and what joins two
texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.outline import (
    Cell,
    Paragraph,
    Row,
    Table,
    Title,
    cell,
    drawn,
    items,
    paragraphs,
    small,
    strong,
)
from tailblock.report.pictures.hours import hours_picture
from tailblock.report.wording import NO_HOURS, hours, of_offer, percent

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import HoursLine, Money, MoneyLine, Report
    from tailblock.report.outline import Block

HOW_MANY = N_("How many hours is that?")
PICTURE = 120.0  # width of the picture [mm]


def hours_of_work(report: Report) -> Iterator[Block]:
    """Yield the hours of an option as the bench reads them, with the price if there is one."""
    found = report.hours
    if found is None:
        if report.plan.offers:
            yield Paragraph(small(_(NO_HOURS)))
        return
    yield Title(1, _(HOW_MANY))
    yield Paragraph(small(of_offer(found.title)), leads=True)
    yield from paragraphs(*found.said)
    yield Table(
        (_("Work"), _("Comes up in"), _("Then takes"), _("On average")),
        (46, 14, 26, 14),
        tuple(Row(_line(line)) for line in found.lines),
        _("The hours of each piece of work"),
    )
    yield drawn(hours_picture(found), PICTURE)
    yield Paragraph(small(found.picture))
    for title, lines in (
        (_("What makes the spread"), found.because),
        (_("What would narrow it before a price is promised"), found.narrows),
    ):
        if lines:
            yield Title(2, title)
            yield from items(lines)
    if found.money:
        yield from price(found.money)
    yield Paragraph(small(found.method))


def _line(line: HoursLine) -> tuple[Cell, ...]:
    takes = (line.hours.low, line.hours.likely, line.hours.high)
    return (
        cell(line.name, line.why),
        cell(percent(line.chance)),
        cell(" / ".join(hours(one) for one in takes)),
        cell(hours(round(line.adds, 1))),
    )


def price(money: Money) -> Iterator[Block]:
    """Yield what the hours come to, in lines that add up."""
    taxed = bool(money.tax)
    yield Title(2, _("What that comes to"))
    yield Table(
        (
            _("Job"),
            _("Hours"),
            _("Labour"),
            _("Materials"),
            *([money.tax] if taxed else []),
            _("Rounding"),
            _("Total"),
        ),
        (22, 9, 15, 15, *([13] if taxed else []), 13, 15),
        tuple(Row(_priced(line, taxed=taxed)) for line in money.lines),
        _("What the hours come to, line by line"),
    )
    yield from items(money.notes)


def _priced(line: MoneyLine, *, taxed: bool) -> tuple[Cell, ...]:
    return (
        cell(line.label, _("least charge") if line.minimum else ""),
        cell(line.hours),
        cell(line.labour),
        cell(line.materials),
        *([cell(line.tax)] if taxed else []),
        cell(line.rounding),
        Cell((strong(line.total),)),
    )
