"""A checklist as one frozen value: entries by id, in the order of the files.

In: entries that the loader has read and merged. Out: `Checklist`, with the place of every entry for
messages. Nothing here knows an instrument.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pydantic import BaseModel

    from tailblock.knowledge.entries import (
        Caution,
        Check,
        Family,
        Fault,
        Length,
        Part,
        Remedy,
        Scales,
        Setups,
        Source,
        Stage,
        Sum,
        Symptom,
        Trait,
    )
    from tailblock.knowledge.yamlmarks import Mark, Place

Kind = Literal[
    "part", "trait", "stage", "fault", "symptom", "check", "family", "remedy", "caution", "source",
    "length", "sum",
]  # fmt: skip


class Places(Mapping[tuple[str, str], "Place"]):
    """The place of each entry by kind and id (`("fault", "top-hump")`), and of what is within."""

    def __init__(self, head: Mark, entries: Mapping[tuple[str, str], Mark]) -> None:
        self._head = head
        self._entries = entries

    def __getitem__(self, key: tuple[str, str]) -> Place:
        return self._entries[key].place

    def __iter__(self) -> Iterator[tuple[str, str]]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)

    def of_the_head(self) -> Places:
        """Return only the place of the whole, for a checklist that has no problem to point at."""
        return Places(replace(self._head, children=None, keys={}), {})

    def within(self, kind: str, entry: str, *path: str | int) -> Place:
        """Return the place of something in an entry, or of the nearest thing that is written.

        What stands in `checklist.yaml` itself has the kind `checklist` and any id; usual values
        that are written nowhere are found at its top.
        """
        mark = self._entries.get((kind, entry))
        if mark is None:
            return self._head.below(path if kind == "checklist" else ()).place
        return mark.below(path).place


@dataclass(frozen=True, slots=True, eq=False)
class Checklist:
    """The knowledge for one family of instruments; every mapping goes from id to entry.

    Nothing of it changes, so what follows from one alone may be kept by its identity; whether two
    have the same content, their `digest` tells.
    """

    id: str
    title: str
    version: str
    licence: str
    parts: Mapping[str, Part]
    traits: Mapping[str, Trait]
    stages: Mapping[str, Stage]
    setups: Setups
    limits: Scales
    families: Mapping[str, Family]
    faults: Mapping[str, Fault]
    symptoms: Mapping[str, Symptom]
    checks: Mapping[str, Check]
    remedies: Mapping[str, Remedy]
    cautions: Mapping[str, Caution]
    sources: Mapping[str, Source]
    geometry: Mapping[str, Length]
    arithmetic: Mapping[str, Sum]
    places: Places

    @property
    def digest(self) -> str:
        """Return the sha256 of the content, the same however it is split into files.

        The order of the entries counts, since it decides between equals.
        """
        return _digest(self)

    def nodes(self) -> tuple[Fault | Symptom, ...]:
        """Return what is hidden: the faults, then the symptoms."""
        return (*self.faults.values(), *self.symptoms.values())

    def fault_or_symptom(self, node: str) -> Fault | Symptom:
        """Return the fault or the symptom of that id.

        Raises
        ------
        KeyError
            There is neither.
        """
        return self.faults[node] if node in self.faults else self.symptoms[node]

    def checks_of_family(self, family: str) -> tuple[Check, ...]:
        """Return the members of a family, best first."""
        return tuple(self.checks[check] for check in self.families[family].checks)

    def family_of(self, check: str) -> Family | None:
        """Return the family that a check stands in."""
        return _families(self).get(check)


@lru_cache(maxsize=8)
def _digest(checklist: Checklist) -> str:
    names = (name for name in checklist.__slots__ if name != "places")
    content = {name: _plain(getattr(checklist, name)) for name in names}
    canonical = json.dumps(content, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()


@lru_cache(maxsize=8)
def _families(checklist: Checklist) -> Mapping[str, Family]:
    """Return the family of every check in one; of two the first counts."""
    families = reversed([*checklist.families.values()])
    return {check: family for family in families for check in family.checks}


def _plain(value: str | BaseModel | Mapping[str, BaseModel]) -> object:
    """Return an entry, or the entries of a section in their order, as plain data."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return [entry.model_dump(mode="json", by_alias=True) for entry in value.values()]
    return value.model_dump(mode="json", by_alias=True)
