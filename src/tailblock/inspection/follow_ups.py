"""What finished work asks to look at again, and when.

In: a checklist and the visits of an inspection. Out: `FollowUp`s by their day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from tailblock.inspection.groups import counting
from tailblock.measures import parse_duration

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from tailblock.inspection.record import Visit
    from tailblock.knowledge.checklist import Checklist


@dataclass(frozen=True, slots=True)
class FollowUp:
    """A check to do again after a remedy, `due` on a day; `seen`: the day on which it was done."""

    due: date
    check: str
    remedy: str
    seen: date | None


def follow_ups(checklist: Checklist, visits: Sequence[Visit]) -> tuple[FollowUp, ...]:
    """Return what the work of all visits asks to look at again, the earliest first.

    It counts as seen on the first visit on its day or later on which the check was answered.
    """
    found = []
    for place, visit in enumerate(visits):
        for work in visit.work:
            for watch in checklist.remedies[work.remedy].watch:
                due = visit.day + timedelta(days=round(parse_duration(watch.after)))
                seen = next(_answered(watch.check, due, visits[place:]), None)
                found.append(FollowUp(due, watch.check, work.remedy, seen))
    return tuple(sorted(found, key=lambda one: one.due))


def _answered(check: str, due: date, visits: Sequence[Visit]) -> Iterator[date]:
    for visit in visits:
        if visit.day >= due and any(reading.check == check for _, reading in counting(visit)):
            yield visit.day
