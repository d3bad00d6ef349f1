"""The hours of an option, said: how many, how sure, why they spread, what would narrow them.

In: the hours of an option, found. Out: `HoursOfWork`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.conventions import grouped
from tailblock.report.model import Enough, Hours, HoursLine, HoursOfWork, Money
from tailblock.report.wording import (
    about_hours,
    capital,
    clause,
    hours,
    listed,
    minutes,
    percent,
    time_spent,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.advice.hours import Contributor, PieceHours, Quantile, WorkHours
    from tailblock.inspection.shop import Shop
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.options import Option

LISTED = 0.01  # work that is less likely than that is not listed, though it counts
MOST_REASONS = 3
_HALF = 0.5  # of the spread: so much is explained before _("mostly") may be said
_METHOD = N_(
    "Mean and spread are exact for this checklist: which faults are there, and what opening up "
    "reveals, follow from all readings together; each piece of work takes its three hours as a "
    "PERT beta distribution, by itself. Work whose fault is not found is not done. What work may "
    "leave behind is not counted. The shares of jobs are simulated from {drawn} jobs, with the "
    "standard error of each beside it."
)


def hours_of_work(
    found: WorkHours, option: Option, checklist: Checklist, shop: Shop | None = None
) -> HoursOfWork:
    """Return what is said of the hours of an option, and of their price if a shop says its rate."""
    return HoursOfWork(
        id=option.id,
        title=option.title,
        mean=found.mean,
        sd=found.sd,
        enough=tuple(Enough(q.share, q.hours, q.error) for q in found.quantiles),
        edges=found.edges,
        counts=found.counts,
        drawn=found.drawn,
        said=_said(found, checklist),
        lines=tuple(
            _line(piece, checklist)
            for piece in found.pieces
            if piece.planned or piece.chance >= LISTED
        ),
        because=tuple(
            _("{share} of the spread: {entry}").format(
                share=percent(entry.share), entry=_reason(entry, found, checklist)
            )
            for entry in found.contributors[:MOST_REASONS]
            if entry.share >= LISTED
        ),
        narrows=tuple(_narrows(found, checklist)),
        picture=_picture(found),
        method=_(_METHOD).format(drawn=grouped(found.drawn)),
        money=_money(found, shop, checklist) if shop else None,
    )


def _money(found: WorkHours, shop: Shop, checklist: Checklist) -> Money:
    from tailblock.report.money import money  # noqa: PLC0415  (a report without a shop needs none)

    return money(found, shop, checklist)


def _line(piece: PieceHours, checklist: Checklist) -> HoursLine:
    faults = [clause(checklist.faults[fault].name) for fault in piece.revealed_by]
    why = ""
    if not piece.planned:
        why = (
            _("if this comes to light: {faults}").format(faults=listed(faults, N_("or")))
            if faults
            else _("needed before other work")
        )
    return HoursLine(
        name=checklist.remedies[piece.remedy].name,
        chance=piece.chance,
        hours=Hours(piece.low, piece.likely, piece.high),
        adds=piece.expected,
        why=why,
    )


def _said(found: WorkHours, checklist: Checklist) -> tuple[str, ...]:
    half, most, nearly_all = found.quantiles
    first = _("On average such a job takes {mean}.").format(mean=time_spent(found.mean))
    if found.sd == 0.0:
        return (first,)
    reasons = []
    explained = 0.0
    for entry in found.contributors[:MOST_REASONS]:
        reasons.append(_reason(entry, found, checklist))
        explained += entry.share
        if explained >= _HALF:
            break
    because = _("{more} because of: {reasons}").format(
        more="mostly" if explained >= _HALF else _("above all"), reasons="; ".join(reasons)
    )
    return (
        first,
        _("Of 100 such jobs, about {half}, and about {nearly_all}.").format(
            half=_more(half), nearly_all=_more(nearly_all)
        ),
        _("Of 100 such jobs, about {most}, {because}.").format(most=_more(most), because=because),
    )


def _more(quantile: Quantile) -> str:
    return _("{round} take more than {hours}").format(
        round=round(100 * (1 - quantile.share)), hours=time_spent(quantile.hours)
    )


def _reason(entry: Contributor, found: WorkHours, checklist: Checklist) -> str:
    """Return a piece of work with what weighs more in it: whether it is needed, or its length."""
    piece = next(piece for piece in found.pieces if piece.remedy == entry.remedy)
    name = checklist.remedies[entry.remedy].name
    if entry.length >= entry.need:
        return _("{name} (takes {low} to {high})").format(
            name=name, low=hours(piece.low), high=hours(piece.high)
        )
    return _("{name} (needed in {round} of 100)").format(
        name=name, round=max(round(100 * piece.chance), 1)
    )


def _narrows(found: WorkHours, checklist: Checklist) -> Iterator[str]:
    spread = about_hours(found.sd)
    for entry in found.worth:
        narrowed = about_hours(entry.sd_left)
        if narrowed == spread:
            continue  # as hours are told it narrows nothing
        left = _("the spread falls from ±{sd} to ±{sd_left}").format(sd=spread, sd_left=narrowed)
        if entry.minutes is not None:
            title = checklist.checks[entry.id].title
            yield _("This check first: {title}, {minutes} ({left})").format(
                title=title, minutes=minutes(entry.minutes), left=left
            )
        else:
            name = checklist.remedies[entry.id].name
            yield _("A price for the rest only at the stopping point of: {name} ({left})").format(
                name=name, left=left
            )


def _picture(found: WorkHours) -> str:
    """Say the histogram in words: where the jobs lie, and the peak."""
    bars = list(pairwise(found.edges))
    peak = max(range(len(bars)), key=lambda at: found.counts[at])
    low, high = bars[peak]
    quantiles = listed(
        [
            _("{share} of them within {hours}").format(
                share=percent(q.share), hours=about_hours(q.hours)
            )
            for q in found.quantiles
        ]
    )
    return capital(
        _(
            "hours of {drawn} simulated jobs: from {bars} to {bars_2}, "
            "most often {low} to {high}; {quantiles}."
        ).format(
            drawn=grouped(found.drawn),
            bars=hours(bars[0][0]),
            bars_2=hours(bars[-1][1]),
            low=hours(low),
            high=hours(high),
            quantiles=quantiles,
        )
    )
