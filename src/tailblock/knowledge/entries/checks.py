"""Checks: what is asked, what the answers show, and which checks decide whether others count.

In: plain data. Out: `Check`, `Family` and what they are made of.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from tailblock.knowledge.entries.fields import (
    Condition,
    Entry,
    Flag,
    Id,
    Risk,
    Strict,
    Text,
    one_or_many,
)
from tailblock.knowledge.entries.measuring import Choice, Measure
from tailblock.knowledge.words import Chance


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
        tuple[Id, ...], BeforeValidator(one_or_many, json_schema_input_type=Id | tuple[Id, ...])
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
    derived: Text | None = None  # a figure of `measures`
    from_: dict[str, DerivedInput] = Field(default={}, alias="from")
    shows: tuple[Shows, ...] = ()
    otherwise: dict[Id, Chance] = {}
    gate: Annotated[
        tuple[Gate, ...],
        BeforeValidator(one_or_many, json_schema_input_type=Gate | tuple[Gate, ...]),
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
