"""The readings that one geometry ties together: what each is by the others, which to take again.

In: `Examined`. Out: `CrossChecks` for the bench, or None if too few were read to be compared. All
of them are lengths; which one is wrong has been decided before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.conventions import number
from tailblock.report.model import ComparedReading, CrossChecks
from tailblock.report.sentences import (
    CROSS_AGREE,
    CROSS_METHOD,
    CROSS_MIND,
    CROSS_MORE_THAN_ONE,
    CROSS_ONLY_ONE,
    CROSS_SEVERAL,
)
from tailblock.report.wording import listed, percent, shown, spread

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.inspection import reconcile
    from tailblock.knowledge.entries import Check
    from tailblock.report.examined import Examined

LENGTH = "length"


def cross_checks(examined: Examined) -> CrossChecks | None:
    """Return how the readings of this visit go together."""
    crossed = examined.cross_checks
    if crossed is None:
        return None
    checks = examined.checklist.checks
    rows = {
        one.check: _row(
            one,
            checks[one.check],
            take_again=one.check in crossed.take_again,
            agree=not crossed.take_again,
        )
        for one in crossed.compared
    }
    usual = [_title(examined, length) for length in crossed.taken_as_usual]
    return CrossChecks(
        kind=crossed.why or "agree",
        said=tuple(_said(crossed, rows)),
        rows=tuple(rows.values()),
        usual=_("Not read, and taken as it usually is: {usual}.").format(usual=listed(usual))
        if usual
        else "",
        method=_(CROSS_METHOD),
        unit="mm",
        chi_square=crossed.chi_square,
        degrees=crossed.degrees,
        chance=crossed.chance,
    )


def _title(examined: Examined, length: str) -> str:
    """Return what a length is called: its check's title, or its name where there is no check."""
    read_by = examined.checklist.geometry.get(length)
    return examined.checklist.checks[read_by.check].title if read_by else length.replace("-", " ")


def _row(
    one: reconcile.Compared, check: Check, *, take_again: bool, agree: bool
) -> ComparedReading:
    off = shown(one.value - one.implied, LENGTH)
    times = number(f"{abs(one.slip):.{1 if abs(one.slip) < 9.95 else 0}f}")
    # how far each would have to be wrong is only a question where they do not agree
    slip = "" if agree else _(", {times} times its own ±").format(times=times)
    return ComparedReading(
        id=one.check,
        check=check.title,
        value=one.value,
        uncertainty=one.u,
        implied_value=one.implied,
        implied_uncertainty=one.implied_u,
        normalised=one.normalised,
        read=f"{shown(one.value, LENGTH)} ± {spread(one.u, LENGTH)}",
        implied=f"{shown(one.implied, LENGTH)} ± {spread(one.implied_u, LENGTH)}",
        difference=f"{off}{slip}",
        take_again=take_again,
    )


def _said(crossed: reconcile.CrossChecks, rows: dict[str, ComparedReading]) -> Iterator[str]:
    """Say whether they agree, and of each reading to be taken again what the others imply."""
    if not crossed.take_again:
        yield _(CROSS_AGREE)
        return
    first, *others = (rows[check] for check in crossed.take_again)
    yield _("Take again: {first}.").format(first=_against(first))
    yield from (_("Or else: {other}.").format(other=_against(other)) for other in others)
    if crossed.why == "more-than-one":
        yield _(CROSS_MORE_THAN_ONE)
    else:
        yield _(CROSS_ONLY_ONE) if crossed.why == "only-one" else _(CROSS_SEVERAL)
    yield _("Sound readings differ as much as these on {chance} of visits.").format(
        chance=percent(crossed.chance)
    )
    yield _(CROSS_MIND)


def _against(row: ComparedReading) -> str:
    return _("{check}, read as {read}; by the other readings it would be {implied}").format(
        check=row.check, read=row.read, implied=row.implied
    )
