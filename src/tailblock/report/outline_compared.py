"""What changed since an earlier visit, as an outline.

In: a `Report`. Out: blocks, none on a first visit without work.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.outline import (
    Paragraph,
    Row,
    Table,
    Title,
    cell,
    drawn,
    items,
    paragraphs,
    small,
)
from tailblock.report.pictures.change import CHANGE, MARKS, change_picture
from tailblock.report.wording import capital, day, listed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Compared, Comparison, Report
    from tailblock.report.outline import Block

WAYS = {"worse": N_("Worse"), "better": N_("Better"), "same": N_("As it was")}


def compared(report: Report) -> Iterator[Block]:
    """Yield what changed, what time is doing, and when to look again."""
    two = report.comparison
    if two is None:
        return
    changed = bool(two.visits or two.trends)
    if changed:
        yield Title(1, _("What has changed"))
    if two.visits:
        yield from _side_by_side(two)
    if two.trends:
        yield Title(2, _("Over the years"))
        yield from items(tuple(one.text for one in two.trends))
    if two.look_again:
        yield Title(2 if changed else 1, _("When to look again"))
        yield from items(
            tuple(
                f"{day(one.due)}: {one.text}"
                + (_(" (done on {done})").format(done=day(one.done)) if one.done else "")
                for one in two.look_again
            )
        )
    if two.method:
        yield Paragraph(small(two.method))


def _side_by_side(two: Comparison) -> Iterator[Block]:
    yield from paragraphs(f"{capital(two.title)}. {two.air}")
    if two.measured:
        yield Paragraph(small(_(MARKS)), leads=True)
    for way, named in WAYS.items():
        title = _(named)
        rows = tuple(_row(one) for one in two.by_way(way))
        if rows:
            yield Title(2, title)
            head = (_("Check"), _("Before"), _("After"), _("Change"))
            yield Table(
                head,
                (34, 22, 22, 22),
                rows,
                _("{title}: readings of two visits").format(title=title),
            )
    if two.faults:
        yield Title(2, _("What is thought of the faults"))
        yield from items(
            tuple(
                f"{one.text}{_(' (turned round)') if one.overturned else ''}" for one in two.faults
            )
        )
    if two.not_compared:
        yield Paragraph(
            small(_("Not compared: {not_compared}.").format(not_compared=listed(two.not_compared)))
        )


def _row(one: Compared) -> Row:
    outside = _("outside its limits") if one.outside else ""
    picture = change_picture(one)
    check = cell(one.check, one.setup)
    return Row(
        (
            replace(check, drawing=drawn(picture, CHANGE)) if picture else check,
            cell(one.before),
            cell(one.after, outside),
            cell(one.change, one.settling),
        )
    )
