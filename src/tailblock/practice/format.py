"""Vignettes: invented cases on paper, as people write them and as the engine takes them.

In: YAML files and the checklist whose words they use. Out: `Vignette`s with readings that are
understood, or every problem of the files together, each with file, line and the mend.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, ValidationError

from tailblock.errors import Problem, ProblemsFound, TailblockError
from tailblock.inspection.interpret import interpret
from tailblock.inspection.model import (
    Fields,
    InspectionFields,
    InstrumentFields,
    MaybeText,
    ReadingFields,
    Text,
    VisitFields,
)
from tailblock.inspection.notes import Notes
from tailblock.inspection.store import content_of
from tailblock.knowledge.mending import problems_of
from tailblock.knowledge.yamlmarks import Mark, Marked, read_marked

if TYPE_CHECKING:
    from collections.abc import Collection
    from pathlib import Path

    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist

MOST_FIRST = 3  # faults that can be among the first three
MOVES = ("bring-to-pitch", "heat", "solvent")  # what `never` names besides remedies

# Vignettes know no calendar, and the day of a single visit moves nothing.
_SOME_DAY = date(2000, 1, 1)
_VISIT = "visit 1"  # how an inspection's reader calls the only visit that a vignette is made into


class VignetteReading(Fields):
    """The answer to one check; without a setup, in that of the reading before."""

    check: Text
    value: Text
    setup: dict[str, Text] = Field(default_factory=dict)


class VignetteInstrument(Fields):
    """What is known of the instrument from the start; a trait that is left out is unknown."""

    scale_length: MaybeText = None
    traits: dict[str, Text] = Field(default_factory=dict)


class Expect(Fields):
    """What a master expects once all readings are in.

    `leads`: any one of these leads; harmless ones win by the verdict that nothing is wrong; none:
    nothing leads. `among_first_three`: all of these stand among the three leading faults; if none
    is named, one of `leads` does. `never`: a move of `MOVES` or a remedy that is never advised.
    `next_among`: what the next check is one of; if none is named, any.
    """

    leads: tuple[Text, ...]
    among_first_three: Annotated[tuple[Text, ...], Field(max_length=MOST_FIRST)] = ()
    never: tuple[Text, ...] = ()
    next_among: tuple[Text, ...] = ()


class VignetteFields(Fields):
    """The whole file. `written`: by somebody who knew the checklist's numbers, or blind."""

    title: Text
    written: Literal["blind", "bench"]
    instrument: VignetteInstrument = Field(default_factory=VignetteInstrument)
    setup: dict[str, Text] = Field(default_factory=dict)
    readings: Annotated[tuple[VignetteReading, ...], Field(min_length=1)]
    expect: Expect
    why: Text


@dataclass(frozen=True, slots=True)
class Vignette:
    """A case on paper: its readings as the only visit of an inspection, and what is expected."""

    path: Path
    title: str
    written: Literal["blind", "bench"]
    inspection: Inspection
    expect: Expect
    why: str


class NoVignettes(TailblockError):
    """A folder holds no vignettes."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        why = "no vignettes here" if folder.is_dir() else "there is no such folder of vignettes"
        super().__init__(f"{folder}: {why} (write one case a .yaml file, see docs/vignettes.md)")


def read_vignettes(folder: Path, checklist: Checklist) -> tuple[Vignette, ...]:
    """Read all vignettes of a folder, by the names of their files.

    Raises
    ------
    NoVignettes
        There is no `.yaml` file in it.
    ProblemsFound
        What is wrong in any of them.
    """
    paths = sorted(folder.glob("*.yaml"))
    if not paths:
        raise NoVignettes(folder)
    vignettes: list[Vignette] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            vignettes.append(read_vignette(path, checklist))
        except ProblemsFound as found:
            problems.extend(found.problems)
    if problems:
        raise ProblemsFound(tuple(problems))
    return tuple(vignettes)


def read_vignette(path: Path, checklist: Checklist) -> Vignette:
    """Read one vignette.

    Raises
    ------
    ProblemsFound
        Every problem in the file, by place.
    TailblockError
        The file cannot be had at all.
    """
    content = content_of(path)
    marked, problems = read_marked(content, str(path))
    if marked is None:
        raise ProblemsFound(problems)
    if not isinstance(marked.data, dict):
        what = "the file is empty" if marked.data is None else "this is no vignette"
        mend = "begin it with `title:`"
        raise ProblemsFound((Problem(str(path), 1, 1, "", "not-a-vignette", what, mend),))
    try:
        fields = VignetteFields.model_validate(marked.data)
    except ValidationError as error:
        found = problems_of(error, VignetteFields, marked.root, "")
        raise ProblemsFound(tuple(sorted(found))) from None
    as_visit, at = _as_inspection(fields, checklist), _marks_as_inspection(marked)
    digest = hashlib.sha256(content).hexdigest()
    inspection, of_readings = interpret(as_visit, checklist, at, path, digest)
    wrong = sorted(
        (*map(_without_visit, of_readings), *_expected_wrongly(fields, checklist, marked))
    )
    if wrong:
        raise ProblemsFound(tuple(wrong))
    return Vignette(path, fields.title, fields.written, inspection, fields.expect, fields.why)


def _as_inspection(fields: VignetteFields, checklist: Checklist) -> InspectionFields:
    """Return a vignette as the first visit of an instrument."""
    visit = VisitFields(
        stage=next(iter(checklist.stages)),
        date=_SOME_DAY,
        setup=fields.setup,
        readings=tuple(ReadingFields(**reading.model_dump()) for reading in fields.readings),
    )
    instrument = InstrumentFields(
        description=fields.title,
        traits=fields.instrument.traits,
        scale_length=fields.instrument.scale_length,
    )
    return InspectionFields(
        job="vignette", checklist=checklist.id, instrument=instrument, visits=(visit,)
    )


def _marks_as_inspection(marked: Marked) -> Marked:
    """Return the places of a vignette's fields where an inspection has the same fields."""
    root = marked.root
    visit = replace(root, children=_children(root, ("setup", "readings")))
    visits = replace(root, children=[visit])
    children = {**_children(root, ("instrument",)), "visits": visits}
    return replace(marked, root=replace(root, children=children))


def _children(mark: Mark, names: Collection[str]) -> dict[str, Mark]:
    below = {name: mark.child(name) for name in names}
    return {name: child for name, child in below.items() if child is not None}


def _without_visit(problem: Problem) -> Problem:
    entry = problem.entry.removeprefix(_VISIT).removeprefix(", ")
    return replace(problem, entry=entry)


def _expected_wrongly(
    fields: VignetteFields, checklist: Checklist, marked: Marked
) -> tuple[Problem, ...]:
    """Return what is expected that the checklist does not know, or that can never come true."""
    notes, expect = Notes(marked), fields.expect
    known = {
        "leads": ("fault", checklist.faults),
        "among_first_three": ("fault", checklist.faults),
        "never": ("remedy", {**dict.fromkeys(MOVES), **checklist.remedies}),
        "next_among": ("check", checklist.checks),
    }
    for field, (what, names) in known.items():
        for index, name in enumerate(getattr(expect, field)):
            notes.known(("expect", field, index), what, name, names)
    for field in ("leads", "among_first_three"):
        for index, name in enumerate(getattr(expect, field)):
            if name in checklist.faults and checklist.faults[name].kind == "event":
                message = f"{name} is an event: what is past never leads"
                mend = "name a fault that it has brought about"
                notes.problem(("expect", field, index), "event", message, mend)
    return tuple(notes.problems)
