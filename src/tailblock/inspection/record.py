"""The record of one instrument on one job, as frozen values.

In: nothing; these are plain values made by `store.read`. Out: `Inspection` with its visits in the
order of the file. Values keep the text that a person wrote beside what it was understood as.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date, datetime
    from pathlib import Path

    from tailblock.knowledge.yamlmarks import Place

Setup = Mapping[str, str]  # dimension -> state, every dimension present


@dataclass(frozen=True, slots=True)
class Answer:
    """What a reading was understood as.

    Exactly one of `level` (the level's id), `value` (in the base unit of the check's quantity) and
    `unknown` says it. `assumed_unit` is the unit taken for a bare number, else empty.
    """

    level: str | None = None
    value: float | None = None
    unknown: bool = False
    assumed_unit: str = ""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph: the path of its file, seen from the inspection's folder, and what it shows."""

    file: str
    caption: str = ""
    place: Place | None = None  # None: not in a file yet


@dataclass(frozen=True, slots=True)
class Reading:
    """The answer to one check on one visit, in one setup."""

    check: str
    written: str  # the characters of `value:`
    answer: Answer
    setup: Setup
    place: Place
    note: str = ""
    photos: tuple[Photo, ...] = ()
    at: datetime | None = None
    retracted: bool = False


@dataclass(frozen=True, slots=True)
class Confirmed:
    """A fault seen with one's own eyes, or seen to be absent: hard evidence."""

    fault: str
    present: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Accepted:
    """A person goes on against a held-back move."""

    fault: str
    by: str
    why: str
    place: Place
    at: datetime | None = None


@dataclass(frozen=True, slots=True)
class WorkDone:
    """A remedy carried out since the visit before."""

    remedy: str
    hours: float | None  # bench hours
    place: Place


@dataclass(frozen=True, slots=True)
class Visit:
    """One inspection: the work since the visit before, then what was seen after it."""

    stage: str
    day: date
    place: Place
    by: str = ""
    climate: Mapping[str, str] = field(default_factory=dict)  # `temperature`, `humidity` as written
    setup: Setup = field(default_factory=dict)  # the state it came in
    work: tuple[WorkDone, ...] = ()
    readings: tuple[Reading, ...] = ()
    confirmed: tuple[Confirmed, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    note: str = ""
    closed: bool = False  # the job ended with this visit; a later one opens it again
    since: Setup | None = None  # the state that it was brought into behind the last reading

    @property
    def present_setup(self) -> Setup:
        """Return the state the instrument is in now: as brought into since, or the last reading's.

        A reading that was taken back still counts here: what it says of the strings stays true.
        """
        if self.since is not None:
            return self.since
        return self.readings[-1].setup if self.readings else self.setup


def in_setup(visit: Visit, setup: Setup) -> Visit:
    """Return a visit as if the instrument had since been brought into a setup.

    Without readings it is as if it had come in that one.
    """
    return replace(visit, since=setup) if visit.readings else replace(visit, setup=setup)


@dataclass(frozen=True, slots=True)
class Instrument:
    """What the instrument is: words for people, traits for the network."""

    description: str
    traits: Mapping[str, str]  # every trait of the checklist; `unknown` where nobody knows
    scale_length: float | None = None  # mm
    frets_clear: int | None = None  # of the body
    note: str = ""
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True)
class Player:
    """Who brought it; optional."""

    name: str = ""
    contact: str = ""


@dataclass(frozen=True, slots=True)
class Inspection:
    """One file: an instrument, a job, its visits."""

    path: Path
    digest: str  # sha256 of the file's bytes
    job: str
    checklist: str
    instrument: Instrument
    visits: tuple[Visit, ...]
    player: Player = Player()
