"""When each thing is to be looked at again: what finished work asks for, and faults kept in view.

In: the checklist, the visits, the causes as they stand. Out: `Watched` entries by their day. How
soon a fault is looked at again goes by its pace (the checklist's `limits`, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from tailblock.advice.ranking import RAISED
from tailblock.inspection.follow_ups import follow_ups
from tailblock.measures import parse_duration

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence
    from datetime import date

    from tailblock.advice.results import CauseBelief, Settling
    from tailblock.inspection.record import Visit
    from tailblock.knowledge.checklist import Checklist

# A serious fault from here on, and below where work is planned on it, is kept in view.
KEPT = (0.10, 0.50)
GRAVE = frozenset({"serious", "destructive"})


@dataclass(frozen=True, slots=True)
class Watched:
    """Something to look at again on a day, by a check (None: no look shows it).

    `remedy` is the work that asks for it, or `fault` the fault that is kept in view, one of the
    two. `seen`: the day on which that was done, if it was.
    """

    due: date
    check: str | None
    remedy: str | None = None
    fault: str | None = None
    seen: date | None = None


def after_work(checklist: Checklist, visits: Sequence[Visit]) -> tuple[Watched, ...]:
    """Return what the work of all visits asks to look at again, the earliest first.

    It counts as seen on the first visit on its day or later on which the check was answered.
    """
    return tuple(
        Watched(one.due, one.check, remedy=one.remedy, seen=one.seen)
        for one in follow_ups(checklist, visits)
    )


def in_view(
    checklist: Checklist,
    causes: Sequence[CauseBelief],
    settled_by: Mapping[str, Settling],
    day: date,
    but: Collection[str] = (),
) -> tuple[Watched, ...]:
    """Return the faults that are kept in view without work, the most probable first.

    Parameters
    ----------
    settled_by
        Fault -> the check that would settle it best.
    day
        From which the time runs.
    but
        Faults for which work is offered: they are not left to be watched.
    """
    low, high = KEPT
    return tuple(
        Watched(
            due=day + timedelta(days=round(_after(checklist, cause))),
            check=settled_by[cause.id].check if cause.id in settled_by else None,
            fault=cause.id,
        )
        for cause in causes
        if cause.kind == "condition"
        and cause.harm in GRAVE
        and low <= cause.probability < high
        and cause.decibans >= RAISED
        and cause.id not in but
    )


def _after(checklist: Checklist, cause: CauseBelief) -> float:
    return parse_duration(checklist.limits.review_after[checklist.faults[cause.id].pace])
