"""What finished work asks to look at again, and when.

In: a checklist and the visits of an inspection. Out: `FollowUp`s by their day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from tailblock.measures import parse_duration

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tailblock.inspection.record import Visit
    from tailblock.knowledge.checklist import Checklist


@dataclass(frozen=True, slots=True)
class FollowUp:
    """A check to do again after a remedy, `due` on a day; `seen` if that was done since."""

    due: date
    check: str
    remedy: str
    seen: bool


def follow_ups(checklist: Checklist, visits: Sequence[Visit]) -> tuple[FollowUp, ...]:
    """Return what the work of all visits asks to look at again, the earliest first.

    It counts as seen once the check was answered on a visit on its day or later.
    """
    found = []
    for place, visit in enumerate(visits):
        for work in visit.work:
            for watch in checklist.remedies[work.remedy].watch:
                due = visit.day + timedelta(days=round(parse_duration(watch.after)))
                seen = any(
                    later.day >= due
                    and any(
                        reading.check == watch.check
                        and not reading.retracted
                        and not reading.answer.unknown
                        for reading in later.readings
                    )
                    for later in visits[place:]
                )
                found.append(FollowUp(due, watch.check, work.remedy, seen))
    return tuple(sorted(found, key=lambda one: one.due))
