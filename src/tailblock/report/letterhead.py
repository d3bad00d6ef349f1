"""What a shop puts at the head and at the end of a report.

In: a `Shop`. Out: `Letterhead`, plain text and a picture; and the same as an outline.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.model import Letterhead, Mark
from tailblock.report.outline import Head, Paragraph, Title, items, paragraphs, small
from tailblock.report.wording import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.inspection.shop import Shop
    from tailblock.report.model import Report
    from tailblock.report.outline import Block

NAME = 60  # signs of a name at the head; the whole stands above what the shop says
OWN_WORDS = N_("From the shop")  # where it has no name


def letterhead(shop: Shop) -> Letterhead:
    """Return what a shop puts on its papers."""
    look = shop.look
    logo = look.logo
    return Letterhead(
        name=shop.name,
        address=shop.address,
        mark=Mark(logo.data, logo.width, logo.height, logo.text) if logo else None,
        heading_colour=look.colours.get("heading", ""),
        warning_colour=look.colours.get("warning", ""),
        closing=look.closing,
        terms=look.terms,
        notice=look.notice,
    )


def head(report: Report) -> tuple[Block, ...]:
    """Return the head of the first page."""
    shop = report.letterhead
    if shop is None or not (shop.name or shop.address or shop.mark):
        return ()
    alt, ratio = (shop.mark.text, shop.mark.width / shop.mark.height) if shop.mark else ("", 1.0)
    return (Head(shortened(shop.name, NAME), shortened(" · ".join(shop.address)), alt, ratio),)


def own_words(report: Report) -> Iterator[Block]:
    """Yield what the shop has to say at the end."""
    shop = report.letterhead
    if shop is None or not (shop.closing or shop.terms or shop.notice):
        return
    yield Title(1, shop.name or _(OWN_WORDS))
    yield from paragraphs(*shop.closing)
    yield from items(shop.terms)
    yield from (Paragraph(small(line)) for line in shop.notice)
