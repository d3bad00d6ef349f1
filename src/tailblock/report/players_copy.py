"""What the player keeps: the report once more in plain words, without what only the bench needs.

In: `Examined`, the plan and the first page. Out: `PlayersCopy`. No probability is said without its
phrase, and every word of the trade that the checklist explains stands in the glossary.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.glossary import glossary
from tailblock.report.model import PlainCause, PlainOffer, PlainOpen, PlainWork, PlayersCopy
from tailblock.report.players_readings import players_readings
from tailblock.report.sentences import (
    HUMIDITY,
    NO_LOOK_LEFT,
    NO_RETURN_TERM,
    NOT_SEEN,
    NOTICE,
    PACE,
    REACH,
    RETURN_TERM,
    TENSION,
)
from tailblock.report.wording import NO_HOURS, briefly, capital, clause, minutes, of_offer, sure

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice import CauseBelief, Unsettled
    from tailblock.report.examined import Examined
    from tailblock.report.model import (
        HoursOfWork,
        PlainChanges,
        PlainMeasured,
        Plan,
        PlayersPage,
        Portrait,
        Work,
    )

FOR_THE_BENCH = (RETURN_TERM, NO_RETURN_TERM)  # how likely work is to last stands there
IDS = frozenset({"id", "part_id"})  # fields that hold no text for people
OPEN = 6  # doubts that are told; the bench copy has them all
REVEALS = 3  # what a piece of work may bring to light


def players_copy(
    examined: Examined,
    argued: Sequence[str],
    plan: Plan,
    page: PlayersPage,
    at_home: Sequence[str],
    *,
    drawn: Portrait | None,
    work_hours: HoursOfWork | None,
    changes: PlainChanges | None = None,
) -> PlayersCopy:
    """Return the pages that follow the first one in the player's copy.

    Parameters
    ----------
    argued
        Ids of the faults that are told as probable, in the order of their numbers.
    plan
        The work that is offered.
    page
        The first page, whose words are explained too.
    at_home
        What not to do at home.
    drawn
        The drawing of the instrument, whose words are explained too.
    work_hours
        The hours of an offer; None if nothing is offered or they are out of reach.
    changes
        What changed since an earlier visit; None on a first visit without work.
    """
    readings = players_readings(examined, argued)
    causes = {cause.id: cause for cause in examined.causes}
    told = PlayersCopy(
        wrong=tuple(_wrong(examined, causes[id_], readings.get(id_)) for id_ in argued),
        open=tuple(_open(examined, entry) for entry in examined.advice.unsettled[:OPEN]),
        changes=changes,
        leave=plan.leave,
        offers=tuple(
            PlainOffer(offer.title, offer.promise, tuple(_work(work) for work in offer.works))
            for offer in plan.offers
        ),
        hours=_hours(plan, work_hours),
        money=work_hours.money if work_hours else None,
        terms=tuple(term for term in plan.terms if term not in map(_, FOR_THE_BENCH)),
        keep=(_(HUMIDITY), *at_home),
        unseen=tuple(_unseen(examined)),
        glossary=(),
        notice=tuple(map(_, NOTICE)),
    )
    beside = (drawn.marks, drawn.taken) if drawn else ()
    explained = glossary(examined.checklist, (*texts_of(page), *texts_of(beside), *texts_of(told)))
    return PlayersCopy(
        **{field.name: getattr(told, field.name) for field in fields(told)}
        | {"glossary": explained}
    )


def texts_of(value: object) -> Iterator[str]:
    """Yield every text within a value of the model."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from texts_of(one)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in IDS:
                yield from texts_of(getattr(value, field.name))


def _wrong(examined: Examined, cause: CauseBelief, measured: PlainMeasured | None) -> PlainCause:
    fault = examined.checklist.faults[cause.id]
    part = examined.checklist.parts[cause.part]
    alone = (
        _(" Left alone: {left_alone}.").format(left_alone=clause(fault.left_alone))
        if fault.left_alone
        else ""
    )
    return PlainCause(
        id=cause.id,
        part=capital(part.plain or part.name),
        plain=cause.plain,
        sure=sure(cause.probability),
        probability=cause.probability,
        goes_on=f"{capital(_(PACE[fault.pace]))}; {_(TENSION[fault.under_tension])}.{alone}",
        measured=measured,
    )


def _open(examined: Examined, entry: Unsettled) -> PlainOpen:
    fault = examined.checklist.faults[entry.fault]
    settles = entry.settled_by
    if settles is None or settles.reach == "asked":
        found_out = f"{_(NO_LOOK_LEFT)}."
    else:
        check = examined.checklist.checks[settles.check]
        found_out = f"{check.title} ({minutes(check.minutes)}); {_(REACH[settles.reach])}."
    return PlainOpen(fault.plain, sure(entry.probability), entry.probability, found_out)


def _work(work: Work) -> PlainWork:
    remarks = [_("Waiting besides: {wait}.").format(wait=clause(work.wait))] if work.wait else []
    remarks.append(_("It can be undone.") if work.reversible else _("It cannot be undone."))
    if work.may_reveal:
        reveals = "; ".join(clause(line) for line in work.may_reveal[:REVEALS])
        remarks.append(_("It may bring to light: {reveals}.").format(reveals=reveals))
    return PlainWork(work.plain, work.if_found, work.stop_point, work.hours, tuple(remarks))


def _hours(plan: Plan, work_hours: HoursOfWork | None) -> tuple[str, ...]:
    if work_hours:
        return (of_offer(work_hours.title), *work_hours.said)
    return (_(NO_HOURS),) if plan.offers else ()


def _unseen(examined: Examined) -> Iterator[str]:
    """Yield, in plain words, the parts that could not be judged and what nobody can see."""
    parts = examined.checklist.parts
    for id_ in examined.grades.undetermined:
        yield capital(parts[id_].plain or briefly(parts[id_].name))
    yield from map(_, NOT_SEEN)
