"""Where a visit stands: what has been answered, what cannot be said, and in which setup.

In: the checklist, the instrument, the readings of the visit and what was heard of them. Out: a
`Situation`, which the rest of this folder asks. No probability is known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.gates import keepers
from tailblock.advice.setups import map_of, satisfies
from tailblock.inspection.groups import counting
from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice.setups import SetupMap
    from tailblock.inspection.record import Instrument, Setup, Visit
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition


@dataclass(frozen=True, slots=True)
class Situation:
    """The state of a visit.

    `answered`: for each check with an answer the setups it was given in. `unknown`: checks whose
    answer was `unknown` in the present setup. `levels`: the level that each answer reached, derived
    checks included. `gated`: checks whose answers count for nothing because of a gate.
    `keepers`: for each check those whose gates decide about it. `minutes_used`: attended minutes
    spent so far.
    """

    checklist: Checklist
    instrument: Instrument
    stage: str
    present: Setup
    answered: Mapping[str, tuple[Setup, ...]]
    unknown: frozenset[str]
    levels: Mapping[str, str]
    gated: frozenset[str]
    keepers: Mapping[str, frozenset[str]]
    minutes_used: float
    map: SetupMap

    @property
    def traits(self) -> Mapping[str, str]:
        """Return what is known of the instrument."""
        return self.instrument.traits

    @property
    def at_pitch(self) -> bool:
        """Return whether the instrument stands at pitch or above."""
        return self.map.at_pitch(self.present)

    def has(self, check: str, setup: Condition | None = None) -> bool:
        """Return whether a check has an answer, given in a setup that a condition allows."""
        return any(satisfies(given, setup or {}) for given in self.answered.get(check, ()))

    def is_read(self, name: str) -> bool:
        """Return whether a check needs no answer any more: a derived one if all inputs are in.

        An answer that a gate has silenced stands only for the setup that it was given in.
        """
        check = self.checklist.checks[name]
        if check.derived is not None:
            return all(
                self.has_input(entry.check, entry.setup)
                for entry in check.from_.values()
                if entry.check is not None
            )
        given = self.answered.get(name, ())
        return self.present in given if name in self.gated else bool(given)

    def has_input(self, name: str, setup: Condition) -> bool:
        """Return whether an input of a derived check is in."""
        if self.checklist.checks[name].derived is not None:
            return self.is_read(name)
        return self.has(name, setup)

    def reached(self, check: str, level: str) -> bool:
        """Return whether a check's answer is that level or a worse one on the same side."""
        found = self.levels.get(check)
        levels = levels_of(self.checklist.checks[check])
        return found is not None and levels.as_bad(found, level)


def situation_of(
    checklist: Checklist, instrument: Instrument, visit: Visit, heard: Heard
) -> Situation:
    """Return the state of a visit from its readings and what was heard of them."""
    answered: dict[str, tuple[Setup, ...]] = {}
    for _, reading in counting(visit):
        answered[reading.check] = (*answered.get(reading.check, ()), reading.setup)
    present = visit.present_setup
    ways = map_of(checklist)
    return Situation(
        checklist=checklist,
        instrument=instrument,
        stage=visit.stage,
        present=present,
        answered=answered,
        unknown=frozenset(
            reading.check
            for reading in visit.readings
            if reading.answer.unknown and not reading.retracted and reading.setup == present
        ),
        levels=heard.levels,
        gated=heard.gated,
        keepers=keepers(checklist),
        minutes_used=_minutes_used(checklist, visit, ways),
        map=ways,
    )


def _minutes_used(checklist: Checklist, visit: Visit, ways: SetupMap) -> float:
    """Return the minutes of the checks answered and of the changes of setup up to now."""
    total = 0.0
    setup = visit.setup
    counted = set()

    def minutes_to(end: Setup) -> float:
        way = ways.route(setup, {name: (state,) for name, state in end.items()})
        return way.minutes if way else 0.0

    for reading in visit.readings:
        total += minutes_to(reading.setup)
        setup = reading.setup
        done = (reading.check, tuple(sorted(setup.items())))
        if done not in counted:
            counted.add(done)
            total += checklist.checks[reading.check].minutes
    return total + minutes_to(visit.present_setup)
