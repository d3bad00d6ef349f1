"""What is hidden: faults, and the symptoms that they show.

In: plain data. Out: `Fault`, `Symptom` and the links between them.
"""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from tailblock.knowledge.entries.fields import (
    Condition,
    Entry,
    FaultKind,
    Harm,
    Id,
    Pace,
    Strict,
    Tension,
    Text,
)
from tailblock.knowledge.words import Chance


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
