"""What a checklist says of the whole: parts, traits, stages, setups, constants, and its files.

In: plain data. Out: `ChecklistFile` and what it is made of. The constants are from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import BeforeValidator, ConfigDict, Field

from tailblock.knowledge.entries.bench import Length, Sum
from tailblock.knowledge.entries.checks import Check, Family
from tailblock.knowledge.entries.fields import (
    UNKNOWN,
    Flag,
    Format,
    Harm,
    Id,
    Pace,
    Strict,
    Text,
    Weight,
)
from tailblock.knowledge.entries.hidden import Fault, Symptom
from tailblock.knowledge.entries.work import Caution, Remedy, Source


class Part(Strict):
    """A region of the instrument, and the words of the trade that are explained with it."""

    id: Id
    name: Text
    plain: Text | None = None
    words: dict[Text, Text] = {}  # a word that a player may not know: what it means


class Trait(Strict):
    """A fact known at the start; with `shares` it may stay `unknown`."""

    id: Id
    label: Text | None = None  # what a report calls it; else the id in words
    ask: Text
    how: Text | None = None  # how to tell in seconds
    values: tuple[Text, ...] = Field(min_length=2)
    texts: dict[Text, Text] = {}  # what a person reads for a value; else the value in words
    shares: dict[Text, float] = {}
    default: Text | None = None  # what `begin` offers

    @property
    def may_be_unknown(self) -> bool:
        """Return whether nobody has to settle it."""
        return UNKNOWN in self.values

    @property
    def called(self) -> str:
        """Return what a person reads for the trait."""
        return self.label or self.id.replace("-", " ")

    def text(self, value: str) -> str:
        """Return what a person reads for one of its values."""
        return self.texts.get(value) or value.replace("-", " ")


class Stage(Strict):
    """A kind of visit: its minutes, the checks it opens with and why in that order.

    `on_each_step`: the places looked at on each step while the tension rises.
    """

    id: Id
    name: Text | None = None
    budget: Text
    opening: tuple[Id, ...] = ()
    on_each_step: tuple[Id, ...] = ()
    why_this_order: Text | None = None


class Move(Strict):
    """One change of setup and what it costs."""

    from_: dict[Id, Text] = Field(alias="from")
    to: dict[Id, Text]
    minutes: float = Field(ge=0)
    wait: Text | None = None
    work: Flag = False  # repair work: never advised as inspection
    note: Text | None = None


def _usual_moves(given: Mapping[str, object]) -> tuple[Move, ...]:
    """Return the moves of an ordinary set of strings between the states that there are."""
    states = given.get("states", {})
    known = states.get("strings", ()) if isinstance(states, Mapping) else ()
    return tuple(
        Move.model_validate({"from": {"strings": a}, "to": {"strings": b}, "minutes": minutes})
        for a, b, minutes in (
            ("at-pitch", "slack", 3), ("slack", "off", 4),
            ("off", "slack", 8), ("slack", "at-pitch", 15),
        )
        if a in known and b in known
    )  # fmt: skip


class Setups(Strict):
    """The states an instrument can be in; `tension` runs from no load to the most."""

    states: dict[Id, tuple[Text, ...]] = {"strings": ("off", "slack", "at-pitch")}
    tension: Id = "strings"
    pitch: Text = "at-pitch"  # from this state on it stands under its full load
    moves: tuple[Move, ...] = Field(default_factory=_usual_moves)


UNLOADED = 2  # states of tension without load worth the name: strings off, and slack


def steps(setups: Setups) -> tuple[str, ...]:
    """Return the states through which the tension rises, from the first under load to pitch."""
    ladder = setups.states.get(setups.tension, ())
    if setups.pitch not in ladder:
        return ()
    return ladder[min(UNLOADED, ladder.index(setups.pitch)) : ladder.index(setups.pitch) + 1]


def _or_default(name: str) -> BeforeValidator:
    """Let a table of constants name only those that differ from the usual ones."""

    def fill(value: object) -> object:
        usual: dict[str, object] = Scales.model_fields[name].default
        return {**usual, **value} if isinstance(value, dict) else value

    return BeforeValidator(fill)


class Scales(Strict):
    """Constants of the advice and of time. All from memory, none from a source."""

    danger: float = Field(default=0.10, gt=0, lt=1)
    stop_bits_per_minute: float = Field(default=0.02, gt=0)
    harm_weight: Annotated[dict[Harm, Weight], _or_default("harm_weight")] = {
        "none": 0.0, "cosmetic": 0.2, "playability": 0.5, "serious": 1.0, "destructive": 1.5,
    }  # fmt: skip
    pace_weight: Annotated[dict[Pace, Weight], _or_default("pace_weight")] = {
        "stable": 0.7, "years": 0.8, "months": 1.0, "weeks": 1.2, "any-moment": 1.5,
    }  # fmt: skip
    event_weight: Weight = 0.25
    climate_memory: Text = "21 d"
    fresh_after: Text = "60 d"
    onset_over: Annotated[dict[Pace, Text | None], _or_default("onset_over")] = {
        "stable": None, "years": "10 y", "months": "1 y", "weeks": "60 d", "any-moment": "2 y",
    }  # fmt: skip
    review_after: Annotated[dict[Pace, Text], _or_default("review_after")] = {
        "stable": "12 months", "years": "12 months", "months": "3 months", "weeks": "14 d",
        "any-moment": "7 d",
    }  # fmt: skip
    same_air: float = Field(default=5.0, gt=0)  # % of humidity within which two visits compare
    surprise_bits: float = Field(default=6.6, gt=0)
    outside: float = Field(default=0.01, gt=0, lt=1)


def usual_stages() -> tuple[Stage, ...]:
    """Return what a checklist gets that names no stages. The minutes are from memory."""
    return (
        Stage(id="arrival", name="Arrival", budget="12 min"),
        Stage(id="opened", name="Opened", budget="45 min"),
        Stage(id="first-stringing", name="First stringing", budget="50 min"),
        Stage(id="settled", name="Settled", budget="50 min"),
        Stage(id="follow-up", name="Follow-up", budget="20 min"),
    )


class Override(Strict):
    """Fields that take the place of those of an inherited entry, whole; lists are never merged."""

    model_config = ConfigDict(extra="allow")

    id: Id


class Sections(Strict):
    """What any file of a checklist may hold."""

    faults: tuple[Fault, ...] = ()
    symptoms: tuple[Symptom, ...] = ()
    checks: tuple[Check, ...] = ()
    families: tuple[Family, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    cautions: tuple[Caution, ...] = ()
    sources: tuple[Source, ...] = ()
    geometry: tuple[Length, ...] = ()
    arithmetic: tuple[Sum, ...] = ()
    override: tuple[Override, ...] = ()
    withdraw: tuple[Id, ...] = ()


class ChecklistFile(Sections):
    """The fields of `checklist.yaml`: who it is, what it is about, and sections as in any file."""

    tailblock: Format
    id: Id
    title: Text
    version: Text
    licence: Text = "not stated"
    extends: Id | None = None
    parts: tuple[Part, ...] = ()
    traits: tuple[Trait, ...] = ()
    stages: tuple[Stage, ...] = ()
    setups: Setups = Field(default_factory=Setups)
    limits: Scales = Field(default_factory=Scales)
