"""Where the bench arithmetic finds its readings, and beside which work its results stand.

In: plain data. Out: `Length`, the check that reads a length of the instrument's geometry, and
`Sum`, the remedies that a group of figures sizes. The names on both sides are fixed: the first are
what `measures.geometry` and the report's figures take, the second what the report can work out.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tailblock.knowledge.entries.fields import Id, Strict

LengthName = Literal[
    "action-bass",
    "action-treble",
    "first-opening",
    "relief-bass",
    "relief-treble",
    "exposure",
    "projection",
    "thickness",
    "string-height",
    "aim-over-top",
    "belly",
    "dip",
    "fret-height",
    "groove",
    "nut-gap",
]
SumName = Literal["aim", "reset", "saddle", "dressing", "nut-slot", "rod", "lighter-strings"]


class Length(Strict):
    """Which check reads a length of the instrument's geometry."""

    id: LengthName
    check: Id


class Sum(Strict):
    """Beside which remedies the report works something out."""

    id: SumName
    remedies: tuple[Id, ...] = Field(min_length=1)
