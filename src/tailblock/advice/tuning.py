"""Tension in steps: the looks that are still ahead, and what looks worse than it did with no load.

In: the state of a visit and its readings in their order. Out: candidates for each step, `Sign`s.
The steps are the checklist's states of tension above slack, the looks those of the stage; each has
choices, from nothing abnormal upward. Once slackened, the steps begin anew.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.candidates import Candidate, Need
from tailblock.advice.results import Sign
from tailblock.knowledge.entries.frame import steps
from tailblock.knowledge.levels import levels_of
from tailblock.knowledge.traits import applies

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.advice.situation import Situation
    from tailblock.inspection.record import Visit


def first_step(situation: Situation) -> int:
    """Return how far up the ladder of tension the first step under load stands."""
    setups = situation.checklist.setups
    ladder = steps(setups)
    return situation.map.tension({setups.tension: ladder[0]}) if ladder else 0


class Tuning:
    """How far the strings have come on this visit, and what was seen on the way."""

    def __init__(self, situation: Situation, visit: Visit) -> None:
        self._situation = situation
        checklist = situation.checklist
        listed = checklist.stages[situation.stage].on_each_step
        self._looks = [
            checklist.checks[name]
            for name in listed
            if applies(checklist.checks[name], situation.traits, checklist)
        ]
        self._seen: set[tuple[str, str]] = set()  # check and state, since it was last slack
        self._base: dict[str, str] = {}
        self._last: dict[str, tuple[str, str]] = {}  # check -> level and state
        tension, first = checklist.setups.tension, first_step(situation)
        for reading in visit.readings:
            if reading.retracted:
                continue
            state, level = reading.setup[tension], reading.answer.level
            if situation.map.tension(reading.setup) < first:
                self._seen.clear()
                self._last.clear()
                if level is not None:
                    self._base[reading.check] = level
                continue
            self._seen.add((reading.check, state))
            if level is not None:
                self._last[reading.check] = level, state

    def ahead(self) -> Iterator[Candidate]:
        """Yield the looks on each step from the present one on that have not been made."""
        situation, setups = self._situation, self._situation.checklist.setups
        present = situation.map.tension(situation.present)
        for state in steps(setups):
            if situation.map.tension({setups.tension: state}) < present:
                continue
            for check in self._looks:
                if (check.id, state) not in self._seen:
                    need = Need(check, {**check.setup, setups.tension: (state,)})
                    yield Candidate(
                        tells=check.id,
                        check=check.id,
                        minutes=check.minutes,
                        way=None,
                        calm_way=None,
                        harmless=True,
                        loading=(),
                        if_trait=None,
                        needs=(need,),
                    )

    def signs(self) -> Iterator[Sign]:
        """Yield the places that look worse than before the strings moved, or than sound."""
        for check in self._looks:
            if check.id in self._last:
                ids = levels_of(check).ids
                now, state = self._last[check.id]
                base = self._base.get(check.id, ids[0])
                if ids.index(now) > ids.index(base):
                    yield Sign(check.id, base, now, state)
