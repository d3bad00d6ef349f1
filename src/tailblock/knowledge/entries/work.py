"""Repair work, its hazards, and where the knowledge is from.

In: plain data. Out: `Remedy`, `Caution`, `Source` and what they are made of.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from tailblock.knowledge.entries.fields import (
    Condition,
    Entry,
    Flag,
    Hazard,
    Id,
    Strict,
    Text,
    one_or_many,
)
from tailblock.knowledge.words import Chance


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
    needs: Needs = Field(default_factory=Needs)
    waits_for: tuple[Id, ...] = ()  # faults that are mended, and all looked at again, before it
    opens: dict[Id, Text] = {}  # states that the work itself passes through: other work costs less
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
        BeforeValidator(one_or_many, json_schema_input_type=Watch | tuple[Watch, ...]),
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
    apart: Text | None = None  # what to do where it meets one of them; else one after the other
    at_home: Text | None = None  # what the player must not do, in the player's words


class Source(Strict):
    """Where something is from, and whether anybody has read it."""

    id: Id
    kind: Literal["common-practice", "memory", "handbook", "standard", "paper", "page", "law"]
    citation: Text
    where: Text | None = None
    seen: Literal["read", "from-memory", "not-applicable"]
