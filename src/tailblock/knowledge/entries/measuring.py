"""What a check may answer: choices, or a quantity with its gauge and the limits of its levels.

In: plain data. Out: `Choice`, `Measure` and what they are made of. Quantities stay text.
"""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from tailblock.knowledge.entries.fields import Condition, Id, Strict, Text


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
