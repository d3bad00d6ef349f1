"""From the fields of an inspection file to their meaning under a checklist.

In: `InspectionFields` with the places of the file, and the checklist. Out: an `Inspection`, and
every problem that was found on the way; what is not understood is never silently dropped.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.errors import Problem
from tailblock.inspection.answers import (
    AnswerError,
    excluded_by,
    find_check,
    require_setup,
    understand,
)
from tailblock.inspection.notes import Notes
from tailblock.inspection.record import (
    Accepted,
    Answer,
    Confirmed,
    Inspection,
    Instrument,
    Photo,
    Player,
    Reading,
    Visit,
    WorkDone,
)
from tailblock.knowledge.entries import UNKNOWN

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from tailblock.inspection.model import (
        ClimateFields,
        InspectionFields,
        InstrumentFields,
        PhotoFields,
        ReadingFields,
        VisitFields,
    )
    from tailblock.inspection.notes import Steps
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition
    from tailblock.knowledge.yamlmarks import Marked


def interpret(
    fields: InspectionFields, checklist: Checklist, marked: Marked, path: Path, digest: str
) -> tuple[Inspection, tuple[Problem, ...]]:
    """Give the fields of a file their meaning.

    Parameters
    ----------
    fields
        The file's fields, each by itself well formed.
    marked
        Where the fields stand; its `file` is the name in the problems.
    path, digest
        The file and the sha256 of its bytes; kept in the record.

    Returns
    -------
    inspection
        Only to be used if there are no problems.
    problems
        By place.
    """
    reader = _Reader(checklist, marked)
    inspection = Inspection(
        path=path,
        digest=digest,
        job=fields.job,
        checklist=fields.checklist,
        instrument=reader.instrument(fields.instrument),
        visits=reader.visits(fields.visits),
        player=Player(**fields.player.model_dump(exclude_none=True)) if fields.player else Player(),
    )
    return inspection, tuple(sorted(reader.problems))


def first_setup(checklist: Checklist) -> dict[str, str]:
    """Return the state in which an instrument comes in unless its visit says otherwise.

    Under its full load, and in the first state of every other dimension.
    """
    setups = checklist.setups
    return {
        dimension: setups.pitch if dimension == setups.tension else states[0]
        for dimension, states in setups.states.items()
    }


class _Reader(Notes):
    """Walks the fields of one file and collects what is wrong with them."""

    def __init__(self, checklist: Checklist, marked: Marked) -> None:
        super().__init__(marked)
        self.checklist = checklist
        self.traits: Mapping[str, str] = {}

    def instrument(self, fields: InstrumentFields) -> Instrument:
        self.traits = self._traits(fields.traits)
        return Instrument(
            description=fields.description,
            traits=self.traits,
            scale_length=self._scale_length(fields.scale_length),
            frets_clear=fields.frets_clear,
            note=fields.note or "",
            photos=self._photos(("instrument", "photos"), fields.photos),
        )

    def _traits(self, written: Mapping[str, str]) -> dict[str, str]:
        for name in written:
            self.known(("instrument", "traits", name), "trait", name, self.checklist.traits)
        return {
            name: self._trait(name, trait.values, written.get(name))
            for name, trait in self.checklist.traits.items()
        }

    def _trait(self, name: str, values: Sequence[str], written: str | None) -> str:
        steps: Steps = ("instrument", "traits", name)
        if written in values:
            return written or UNKNOWN
        if written is not None:
            message = f"{name} cannot be {written!r}"
            self.problem(steps, "trait-value", message, f"it is one of {', '.join(values)}")
        elif UNKNOWN not in values:
            message = f"the trait {name} is missing, and everything depends on it"
            self.problem(steps, "trait-missing", message, f"it is one of {', '.join(values)}")
        return UNKNOWN

    def _scale_length(self, written: str | None) -> float | None:
        value = self.quantity(("instrument", "scale_length"), written, "length", None)
        if value is not None and value <= 0:
            self.problem(("instrument", "scale_length"), "range", "a scale is longer than nothing")
        return value

    def visits(self, visits: Sequence[VisitFields]) -> tuple[Visit, ...]:
        if not visits:
            self.problem(("visits",), "no-visit", "there is no visit", "begin one: `- stage: ...`")
        done: list[Visit] = []
        setup: Setup = first_setup(self.checklist)
        for index, fields in enumerate(visits):
            done.append(self._visit(("visits", index), fields, setup))
            setup = done[-1].present_setup
        for index, (before, after) in enumerate(pairwise(done), start=1):
            if after.day < before.day:
                message = f"the visit before is of {before.day}, later than {after.day}"
                mend = "visits stand in the order in which they were made"
                self.problem(("visits", index, "date"), "visit-order", message, mend)
        return tuple(done)

    def _visit(self, at: Steps, fields: VisitFields, before: Setup) -> Visit:
        self.known((*at, "stage"), "stage", fields.stage, self.checklist.stages)
        setup = self._setup((*at, "setup"), fields.setup, before)
        return Visit(
            stage=fields.stage,
            day=fields.date,
            place=self.place(at),
            by=fields.by or "",
            climate=self._climate((*at, "climate"), fields.climate),
            setup=setup,
            work=self._work(at, fields),
            readings=self._readings((*at, "readings"), fields.readings, setup),
            confirmed=self._confirmed(at, fields),
            accepted=self._accepted(at, fields),
            note=fields.note or "",
            closed=fields.closed,
        )

    def _setup(self, at: Steps, written: Mapping[str, str], before: Setup) -> Setup:
        """Fill up a partial setup from the one before it."""
        states = self.checklist.setups.states
        setup = dict(before)
        for dimension, state in written.items():
            if not self.known((*at, dimension), "setup", dimension, states):
                continue
            if state not in states[dimension]:
                message = f"{dimension} cannot be {state!r}"
                mend = f"it is one of {', '.join(states[dimension])}"
                self.problem((*at, dimension), "setup-state", message, mend)
                continue
            setup[dimension] = state
        return setup

    def _climate(self, at: Steps, fields: ClimateFields) -> dict[str, str]:
        self.quantity((*at, "temperature"), fields.temperature, "temperature", None)
        humidity = self.quantity((*at, "humidity"), fields.humidity, "percent", "%")
        if humidity is not None and not 0 <= humidity <= 100:
            message = f"a relative humidity of {fields.humidity} cannot be"
            self.problem((*at, "humidity"), "range", message, "possible is from 0 to 100 %")
        return fields.model_dump(exclude_none=True)

    def _work(self, at: Steps, fields: VisitFields) -> tuple[WorkDone, ...]:
        done = []
        for index, work in enumerate(fields.work):
            steps = (*at, "work", index)
            self._remedy((*steps, "remedy"), work.remedy)
            done.append(WorkDone(work.remedy, work.hours, self.place(steps)))
        return tuple(done)

    def _readings(
        self, at: Steps, readings: Sequence[ReadingFields], setup: Setup
    ) -> tuple[Reading, ...]:
        done = []
        for index, fields in enumerate(readings):
            steps = (*at, index)
            setup = self._setup((*steps, "setup"), fields.setup, setup)
            reading = Reading(
                check=fields.check,
                written=fields.value,
                answer=self._answer(steps, fields, setup),
                setup=setup,
                place=self.place(steps),
                note=fields.note or "",
                photos=self._photos((*steps, "photos"), fields.photos),
                at=fields.at,
                retracted=fields.retracted,
            )
            done.append(reading)
        return tuple(done)

    def _photos(self, at: Steps, photos: Sequence[PhotoFields]) -> tuple[Photo, ...]:
        return tuple(
            Photo(one.file, one.caption or "", self.place((*at, index)))
            for index, one in enumerate(photos)
        )

    def _answer(self, at: Steps, fields: ReadingFields, setup: Setup) -> Answer:
        """Understand a reading; one problem of each kind that stands on its own is noted."""
        field = "check"
        try:
            check = find_check(fields.check, self.checklist, self.traits)
            field = "setup"
            require_setup(check, setup)
            field = "value"
            return understand(check, fields.value)
        except AnswerError as error:
            entry = f"{self.entry(at)}, {error.check}"
            place = self.place((*at, field))
            self.problems.append(Problem(*place, entry, error.rule, error.said, error.mend))
            return Answer(unknown=True)

    def _confirmed(self, at: Steps, fields: VisitFields) -> tuple[Confirmed, ...]:
        seen: dict[str, Confirmed] = {}
        for index, said in enumerate(fields.confirmed):
            steps = (*at, "confirmed", index)
            self._fault((*steps, "fault"), said.fault)
            confirmed = Confirmed(said.fault, said.present, self.place(steps))
            first = seen.setdefault(said.fault, confirmed)
            if first.present != confirmed.present:
                message = (
                    f"{said.fault} is confirmed as {_presence(said.present)} here and as "
                    f"{_presence(first.present)} in line {first.place.line}"
                )
                self.problem(steps, "contradiction", message, "keep the one that was seen")
        return tuple(seen.values())

    def _accepted(self, at: Steps, fields: VisitFields) -> tuple[Accepted, ...]:
        done = []
        for index, said in enumerate(fields.accepted):
            steps = (*at, "accepted", index)
            self._fault((*steps, "fault"), said.fault)
            done.append(Accepted(said.fault, said.by, said.why, self.place(steps), said.at))
        return tuple(done)

    def _fault(self, at: Steps, name: str) -> None:
        """Note a fault that the checklist lacks or that this instrument cannot have."""
        if self.known(at, "fault", name, self.checklist.faults):
            self._applies(at, name, self.checklist.faults[name].applies_when)

    def _remedy(self, at: Steps, name: str) -> None:
        """Note a remedy that the checklist lacks or that this instrument cannot have had."""
        if self.known(at, "remedy", name, self.checklist.remedies):
            self._applies(at, name, self.checklist.remedies[name].applies_when)

    def _applies(self, at: Steps, name: str, applies_when: Condition) -> None:
        excluded = excluded_by(applies_when, self.traits, self.checklist)
        if excluded:
            message = f"{name} does not apply to this instrument: {excluded.trait} is "
            message += f"{excluded.value}"
            mend = f"it is for {excluded.trait} {', '.join(excluded.wanted)}"
            self.problem(at, "does-not-apply", message, mend)


def _presence(present: bool) -> str:  # noqa: FBT001  (it is the field itself)
    return "present" if present else "absent"
