"""What fields are made of: ids, texts, flags, conditions and the words of fixed lists.

In: the characters as written. Out: checked values. `Strict` and `Entry` are bases.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    WithJsonSchema,
)

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


def one_or_many(value: object) -> object:
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
    tuple[Text, ...], BeforeValidator(one_or_many, json_schema_input_type=Text | tuple[Text, ...])
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

    # Schemas are built when a file is read: a checklist that was kept needs none.
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class Entry(Strict):
    """What every entry has: an id and the sources it rests on."""

    id: Id
    sources: tuple[Id, ...] = ()
