"""The models of what a checklist file may hold: faults, symptoms, checks, remedies and the rest.

In: plain data from YAML (texts, lists, mappings; every scalar is the characters as written). Out:
frozen entries. A model judges one entry by itself; what ties entries together (dangling ids, rings
of causes, coverage) is the work of `lint`. Quantities stay text here (`2 mm`);
`tailblock.measures.units` reads them.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from tailblock.knowledge.words import Chance

ID_PATTERN = r"^[a-z0-9][a-z0-9-]*$"
# An editor takes a bare `12` for a number; here it is a text like any other.
Id = Annotated[
    str,
    StringConstraints(pattern=ID_PATTERN, max_length=64),
    WithJsonSchema({"type": ["string", "integer"], "pattern": ID_PATTERN, "maxLength": 64}),
]
Text = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1),
    WithJsonSchema({"type": ["string", "number", "boolean"], "minLength": 1}),
]


def _one_or_many(value: object) -> object:
    """Let a single value stand where a list is meant: `{strings: slack}`, `gate: {...}`."""
    return value if isinstance(value, list) else [value]


def _flag(value: object) -> object:
    """Take `true` and `false` for what they say, and no other word."""
    if value not in ("true", "false", True, False):
        raise ValueError("say `true` or `false`")
    return value in ("true", True)


def _format(value: object) -> object:
    """Take the version of the format, a number that is read as text."""
    if value not in ("1", 1):
        raise ValueError("this tailblock reads version 1 of the format: write `tailblock: 1`")
    return 1


Flag = Annotated[bool, BeforeValidator(_flag, json_schema_input_type=bool)]
Format = Annotated[Literal[1], BeforeValidator(_format, json_schema_input_type=Literal[1])]

# `when`, `applies_when`, `setup`: AND between names, OR within a list.
Values = Annotated[
    tuple[Text, ...], BeforeValidator(_one_or_many, json_schema_input_type=Text | tuple[Text, ...])
]
Condition = dict[Id, Values]

UNKNOWN = "unknown"  # of a trait or a reading: nobody knows

Harm = Literal["none", "cosmetic", "playability", "serious", "destructive"]
Pace = Literal["stable", "years", "months", "weeks", "any-moment"]
Weight = Annotated[float, Field(ge=0)]
Tension = Literal["fine", "watch", "danger"]
FaultKind = Literal["condition", "event", "climate"]
Risk = Literal["heat", "solvent", "load"]
Hazard = Literal[
    "heat", "steam", "solvent", "flammable", "glue", "dust", "mould", "bleach", "tension",
    "brittle", "load", "sharp", "chemical", "metal", "finish", "handling", "electric", "light",
    "disposal",
]  # fmt: skip


class Strict(BaseModel):
    """An entry: unknown fields are errors, and nothing changes once it is read."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class Entry(Strict):
    """What every entry has: an id and the sources it rests on."""

    id: Id
    sources: tuple[Id, ...] = ()


class AloneWhen(Strict):
    """A trait that changes the starting chance: `alone` replaces it, `shift` moves it by words."""

    when: Condition
    alone: Chance | None = None
    shift: int | None = None

    @model_validator(mode="after")
    def _one_of(self) -> Self:
        if (self.alone is None) == (self.shift is None):
            raise ValueError("give `alone` or `shift`, one of the two")
        return self


class Cause(Strict):
    """A fault that can bring another about by itself, with that chance."""

    fault: Id
    strength: Chance
    when: Condition = {}


class Fault(Entry):
    """A physical condition that is present or absent."""

    part: Id
    name: Text  # bench words
    plain: Text  # the player's words
    kind: FaultKind = "condition"
    alone: Chance
    alone_when: tuple[AloneWhen, ...] = ()
    applies_when: Condition = {}
    caused_by: tuple[Cause, ...] = ()
    harm: Harm
    pace: Pace
    under_tension: Tension
    left_alone: Text | None = None  # what comes of it
    rivals: tuple[Id, ...] = ()  # of a benign entry: the faults it imitates
    no_remedy: Text | None = None  # why nothing is done about it
    hard_to_reach: Text | None = None  # why no harmless check shows it without disassembly


class Symptom(Entry):
    """What faults show and several checks can bring to light; hidden, never itself repaired."""

    part: Id
    name: Text
    plain: Text | None = None
    alone: Chance
    alone_when: tuple[AloneWhen, ...] = ()
    applies_when: Condition = {}
    caused_by: tuple[Cause, ...]


class Choice(Strict):
    """One answer of a check that is looked at, asked or listened to."""

    level: Id
    text: Text


class Gauge(Strict):
    """What a careful hand gets from the tool: its finest division and its standard deviation."""

    resolution: Text
    repeatability: Text


class Span(Strict):
    """A band of values, both ends included; an open end is left out."""

    from_: Text | None = Field(default=None, alias="from")
    to: Text | None = None


class LevelUp(Strict):
    """A level on the high side: everything up to `up_to`; the last one is open."""

    level: Id
    up_to: Text | None = None
    text: Text | None = None


class LevelDown(Strict):
    """A level on the low side: everything down to `down_to`; the last one is open."""

    level: Id
    down_to: Text | None = None
    text: Text | None = None


class Limits(Strict):
    """The limits of a measurement.

    Either `levels` (the first is normal, then upward), or `normal` with `levels_low`, `levels_high`
    or both. A value on a limit takes the milder level.
    """

    normal: Span | None = None
    levels: tuple[LevelUp, ...] = ()
    levels_low: tuple[LevelDown, ...] = ()
    levels_high: tuple[LevelUp, ...] = ()

    @model_validator(mode="after")
    def _one_form(self) -> Self:
        if bool(self.levels) == (self.normal is not None):
            raise ValueError("give `levels`, or `normal` with `levels_low` or `levels_high`")
        if self.normal is not None and not (self.levels_low or self.levels_high):
            raise ValueError("`normal` needs `levels_low` or `levels_high` beside it")
        return self


class LimitsWhen(Limits):
    """Limits that hold for some traits; the same level ids in the same order as the plain ones."""

    when: Condition


class Measure(Limits):
    """A quantity with its default unit, the tool's gauge and the limits of the levels."""

    quantity: Literal[
        "length", "angle", "percent", "temperature", "mass", "force", "cents", "count", "time"
    ]
    unit: Text  # a bare number is taken in this unit, and the answer says so
    possible: Span  # outside it the value is a slip, and is refused
    gauge: Gauge
    limits_when: tuple[LimitsWhen, ...] = ()


class Shows(Strict):
    """How a fault or symptom shows: chance of AT LEAST that level, given it alone."""

    fault: Id | None = None
    symptom: Id | None = None
    at_least: dict[Id, Chance] = {}
    at_least_low: dict[Id, Chance] = {}
    at_least_high: dict[Id, Chance] = {}
    when: Condition = {}

    @model_validator(mode="after")
    def _one_target(self) -> Self:
        if (self.fault is None) == (self.symptom is None):
            raise ValueError("name a `fault` or a `symptom`, one of the two")
        if not (self.at_least or self.at_least_low or self.at_least_high):
            raise ValueError("say `at_least` which level it shows")
        return self

    @property
    def target(self) -> str:
        """Return the id of the fault or symptom shown."""
        return self.fault or self.symptom or ""


class Widen(Strict):
    """A gate that leaves a reading standing but trusts it less."""

    widen: Text | None = None  # a standard uncertainty added in quadrature
    widen_bands: float | None = Field(default=None, gt=0, le=5)  # the same, in widths of normal

    @model_validator(mode="after")
    def _one_of(self) -> Self:
        if (self.widen is None) == (self.widen_bands is None):
            raise ValueError("give `widen` (a quantity) or `widen_bands` (normal bands)")
        return self


class Gate(Strict):
    """A check that decides whether others count, from this level (or these, one a side) onward."""

    from_: Annotated[
        tuple[Id, ...], BeforeValidator(_one_or_many, json_schema_input_type=Id | tuple[Id, ...])
    ] = Field(alias="from")
    of: tuple[Id, ...]  # check ids or quantities
    then: Literal["no-evidence"] | Widen
    why: Text | None = None


class Follows(Strict):
    """A check that only makes sense once another found something."""

    check: Id
    from_: Id = Field(alias="from")


class DerivedInput(Strict):
    """Where a derived check takes one argument from: a reading, or a number of the instrument."""

    check: Id | None = None
    setup: Condition = {}
    given: Literal["scale_length"] | None = None
    also_speaks: Flag = False

    @model_validator(mode="after")
    def _one_of(self) -> Self:
        if (self.check is None) == (self.given is None):
            raise ValueError("name a `check` or something `given`, one of the two")
        return self


class Check(Entry):
    """Something to look at, ask, listen to or measure."""

    part: Id
    title: Text
    ask: Text
    how: Text | None = None  # steps, Markdown
    tools: tuple[Text, ...] = ()
    minutes: float = Field(default=0, ge=0, le=240)  # of a derived check: its inputs' are counted
    wait: Text | None = None  # unattended time
    asked: Literal["bench", "player"] = "bench"  # a complaint is asked of the player
    setup: Condition = {}
    stages: tuple[Id, ...] = ()  # empty: every stage
    applies_when: Condition = {}
    choices: tuple[Choice, ...] = ()
    measure: Measure | None = None
    derived: Id | None = None  # a function of `measures`
    from_: dict[str, DerivedInput] = Field(default={}, alias="from")
    shows: tuple[Shows, ...] = ()
    otherwise: dict[Id, Chance] = {}
    gate: Annotated[
        tuple[Gate, ...],
        BeforeValidator(_one_or_many, json_schema_input_type=Gate | tuple[Gate, ...]),
    ] = ()
    follows: Follows | None = None
    risk: Risk | None = None
    loads: Flag = False
    cautions: tuple[Id, ...] = ()
    trap: Text | None = None
    look_alike: Text | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if bool(self.choices) == (self.measure is not None):
            raise ValueError("a check has `choices` or `measure`, one of the two")
        if (self.derived is None) != (not self.from_):
            raise ValueError("a derived check has both `derived` and `from`")
        if self.derived is not None and self.measure is None:
            raise ValueError("a derived check is measured: give `measure`")
        if self.derived is None and self.how is None:
            raise ValueError("say `how` it is done, in steps that an apprentice can follow")
        if self.derived is None and not self.minutes:
            raise ValueError("say how many `minutes` it takes")
        return self


class Family(Strict):
    """Measurements tied by one geometry or one hand: on a visit the first with an answer speaks."""

    id: Id
    checks: tuple[Id, ...] = Field(min_length=2)  # best first
    note: Text | None = None


class Fixes(Strict):
    """A fault that the remedy cures, and how well."""

    fault: Id
    how_well: Chance


class Needs(Strict):
    """What must be done or set up first."""

    remedies: tuple[Id, ...] = ()
    setup: Condition = {}


class Hours(Strict):
    """Bench hours, low / likely / high, without drying and waiting."""

    low: float = Field(ge=0)
    likely: float = Field(gt=0)
    high: float = Field(gt=0)

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.low <= self.likely <= self.high:
            raise ValueError("hours run low <= likely <= high")
        return self


class Reveal(Strict):
    """What only shows once the work has opened it: P(there | opened), as the trade says."""

    fault: Id
    chance: Chance
    text: Text | None = None


class Leave(Strict):
    """A fault that the work itself may cause."""

    fault: Id
    chance: Chance


class Watch(Strict):
    """What to look at again after the work, and when."""

    check: Id
    after: Text  # `6 months`


class Remedy(Entry):
    """A piece of repair work."""

    part: Id
    name: Text
    plain: Text
    how: Text | None = None
    applies_when: Condition = {}
    fixes: tuple[Fixes, ...] = Field(min_length=1)
    needs: Needs = Needs()
    hours: Hours
    wait: Text | None = None  # drying, settling: unattended
    materials: tuple[Text, ...] = ()
    may_reveal: tuple[Reveal, ...] = ()
    may_leave: tuple[Leave, ...] = ()
    reversible: Flag
    stop_point: Flag = False  # the player decides before going on
    stage: Literal["safe", "playable", "lasting", "improve"] = "lasting"  # the offer it belongs to
    watch: Annotated[
        tuple[Watch, ...],
        BeforeValidator(_one_or_many, json_schema_input_type=Watch | tuple[Watch, ...]),
    ] = ()
    hazards: tuple[Hazard, ...] = ()  # what the work involves; each needs a caution
    cautions: tuple[Id, ...] = ()


class Caution(Entry):
    """A hazard with its controls."""

    title: Text
    hazard: Hazard
    text: Text
    controls: tuple[Text, ...] = Field(min_length=1)  # in working order
    never_with: tuple[Hazard, ...] = ()
    at_home: Text | None = None  # what the player must not do, in the player's words


class Source(Strict):
    """Where something is from, and whether anybody has read it."""

    id: Id
    kind: Literal["common-practice", "memory", "handbook", "standard", "paper", "page", "law"]
    citation: Text
    where: Text | None = None
    seen: Literal["read", "from-memory", "not-applicable"]


class Part(Strict):
    """A region of the instrument."""

    id: Id
    name: Text
    plain: Text | None = None


class Trait(Strict):
    """A fact known at the start; with `shares` it may stay `unknown`."""

    id: Id
    ask: Text
    how: Text | None = None  # how to tell in seconds
    values: tuple[Text, ...] = Field(min_length=2)
    shares: dict[Text, float] = {}
    default: Text | None = None  # what `begin` offers

    @property
    def may_be_unknown(self) -> bool:
        """Return whether nobody has to settle it."""
        return UNKNOWN in self.values


class Stage(Strict):
    """A kind of visit: its minutes, the checks it opens with and why in that order."""

    id: Id
    name: Text | None = None
    budget: Text
    opening: tuple[Id, ...] = ()
    why_this_order: Text | None = None


class Move(Strict):
    """One change of setup and what it costs."""

    from_: dict[Id, Text] = Field(alias="from")
    to: dict[Id, Text]
    minutes: float = Field(ge=0)
    wait: Text | None = None
    work: Flag = False  # repair work: never advised as inspection
    note: Text | None = None


class Setups(Strict):
    """The states an instrument can be in; `tension` runs from no load to the most."""

    states: dict[Id, tuple[Text, ...]] = {"strings": ("off", "slack", "at-pitch")}
    tension: Id = "strings"
    pitch: Text = "at-pitch"  # from this state on it stands under its full load
    moves: tuple[Move, ...] = tuple(
        Move.model_validate({"from": {"strings": a}, "to": {"strings": b}, "minutes": minutes})
        for a, b, minutes in (
            ("at-pitch", "slack", 3), ("slack", "off", 4),
            ("off", "slack", 8), ("slack", "at-pitch", 15),
        )
    )  # fmt: skip


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


# What a checklist gets that names no stages. The minutes are from memory.
DEFAULT_STAGES: tuple[Stage, ...] = (
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
    setups: Setups = Setups()
    limits: Scales = Scales()
