"""Entries before they are judged: plain data with their places, and what `extends` does to them.

In: the sections of a checklist's files, and those of the checklist that it extends. Out: the
entries that stand in the end, and problems. Replacing fields and taking links out happens here, on
the data as written, so that an entry is judged once and in its final form.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from tailblock.errors import Problem
from tailblock.knowledge import entries as form
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from pydantic import BaseModel

    from tailblock.knowledge.yamlmarks import Data, Mark

# Section of a file -> kind of its entries and the model that judges them.
SECTIONS: dict[str, tuple[str, type[BaseModel]]] = {
    "parts": ("part", form.Part),
    "traits": ("trait", form.Trait),
    "stages": ("stage", form.Stage),
    "faults": ("fault", form.Fault),
    "symptoms": ("symptom", form.Symptom),
    "checks": ("check", form.Check),
    "families": ("family", form.Family),
    "remedies": ("remedy", form.Remedy),
    "cautions": ("caution", form.Caution),
    "sources": ("source", form.Source),
    "geometry": ("length", form.Length),
    "arithmetic": ("sum", form.Sum),
}
MODELS: dict[str, type[BaseModel]] = dict(SECTIONS.values())

# Field -> kinds of entry that it names, as one id or a list of ids.
_LINKS: dict[str, tuple[str, ...]] = {
    "fault": ("fault",),
    "symptom": ("symptom",),
    "rivals": ("fault",),
    "check": ("check",),
    "checks": ("check",),
    "of": ("check",),
    "opening": ("check",),
    "on_each_step": ("check",),
    "remedies": ("remedy",),
    "cautions": ("caution",),
    "sources": ("source",),
}
# Kind -> a list that an entry cannot do without: when its last link goes, so does the entry.
_NEEDS: dict[str, tuple[str, int]] = {
    "family": ("checks", 2),
    "remedy": ("fixes", 1),
    "sum": ("remedies", 1),
}
# What is not withdrawn by itself; a length and a sum go with the last of what they name.
_STAYS = frozenset({"part", "trait", "stage", "length", "sum"})


@dataclass(frozen=True, slots=True)
class Raw:
    """One entry as written."""

    kind: str
    id: str
    data: dict[str, Data]
    mark: Mark

    def problem(self, rule: str, message: str, mend: str = "", *path: str | int) -> Problem:
        """Return a problem at a place in the entry."""
        return Problem(*self.mark.below(path).place, self.id, rule, message, mend)


@dataclass(slots=True)
class Pile:
    """The entries of a checklist by kind and id, in the order of the files."""

    entries: dict[tuple[str, str], Raw] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def add(self, raw: Raw, inherited: Iterable[tuple[str, str]]) -> None:
        """Add an entry of its own; an id that is taken is a problem that names both places."""
        key = raw.kind, raw.id
        first = self.entries.setdefault(key, raw)
        if first is raw:
            return
        file, line, column = first.mark.place
        message = f"the {raw.kind} `{raw.id}` is there already, at {file}:{line}:{column}"
        mend = "list what changes under `override`" if key in inherited else "keep one of the two"
        self.problems.append(raw.problem("duplicate-id", message, mend, "id"))

    def override(self, change: Raw, inherited: Iterable[tuple[str, str]]) -> None:
        """Put the fields of a change in the place of those of an inherited entry."""
        keys = [key for key in inherited if key[1] == change.id and key in self.entries]
        fitting = [key for key in keys if change.data.keys() <= _fields(MODELS[key[0]])]
        if not keys:
            mend = nearest(change.id, sorted(key[1] for key in inherited))
            message = f"there is no inherited entry `{change.id}` to override"
            self.problems.append(change.problem("override", message, mend, "id"))
        elif len(fitting or keys) > 1:
            kinds = " and a ".join(kind for kind, _ in fitting or keys)
            message = f"`{change.id}` is a {kinds}, and these fields do not tell which is meant"
            self.problems.append(change.problem("override", message, "", "id"))
        else:
            key = (fitting or keys)[0]
            self.entries[key] = _changed(self.entries[key], change)

    def withdraw(self, entry: str, place: Mark, inherited: Iterable[tuple[str, str]]) -> None:
        """Take an inherited entry out, with every link to it."""
        keys = [key for key in inherited if key[1] == entry and key in self.entries]
        keys = [key for key in keys if key[0] not in _STAYS]
        if len(keys) == 1:
            self._take_out(keys[0])
            return
        message = f"there is no inherited entry `{entry}` to withdraw"
        mend = nearest(entry, sorted(key[1] for key in inherited))
        if keys:
            message, mend = f"`{entry}` is a {' and a '.join(kind for kind, _ in keys)}", ""
        self.problems.append(Problem(*place.place, entry, "withdraw", message, mend))

    def _take_out(self, key: tuple[str, str]) -> None:
        """Take an entry out, then the links to it, then what cannot stand without them."""
        going = [key]
        while going:
            kind, entry = going.pop()
            self.entries.pop((kind, entry), None)
            for other, raw in list(self.entries.items()):
                data, mark = _fields_without(raw.data, raw.mark, _naming(kind, entry))
                self.entries[other] = replace(raw, data=data, mark=mark)
                if _cannot_stand(raw.kind, raw.data, data):
                    going.append(other)


def _fields(model: type[BaseModel]) -> set[str]:
    return {info.alias or name for name, info in model.model_fields.items()}


def _changed(old: Raw, change: Raw) -> Raw:
    """Return an entry with the fields of another in the place of its own."""
    above = old.mark.children if isinstance(old.mark.children, dict) else {}
    new = change.mark.children if isinstance(change.mark.children, dict) else {}
    mark = replace(
        old.mark,
        children={**above, **{name: mark for name, mark in new.items() if name != "id"}},
        keys={
            **old.mark.keys,
            **{name: at for name, at in change.mark.keys.items() if name != "id"},
        },
    )
    return replace(old, data={**old.data, **change.data}, mark=mark)


def _naming(kind: str, entry: str) -> Callable[[str, Data], bool]:
    """Return a judge of whether a field's value names an entry of that kind and id."""
    fields = {name for name, kinds in _LINKS.items() if kind in kinds}
    return lambda name, value: value == entry and name in fields


def _fields_without(
    data: dict[str, Data], mark: Mark, gone: Callable[[str, Data], bool]
) -> tuple[dict[str, Data], Mark]:
    """Return a mapping and its marks without what names an entry.

    An id in a list goes alone; a mapping in a list goes whole if one of its own fields names the
    entry; a mapping that is a field's value goes with its field (`follows`, an input of `from`).
    """
    marks = mark.children if isinstance(mark.children, dict) else {}
    kept = {
        name: _without(name, value, marks[name], gone)
        for name, value in data.items()
        if not gone(name, value) and not _link(value, gone)
    }
    children = {name: below for name, (_, below) in kept.items()}
    return {name: value for name, (value, _) in kept.items()}, replace(mark, children=children)


def _without(
    name: str, data: Data, mark: Mark, gone: Callable[[str, Data], bool]
) -> tuple[Data, Mark]:
    """Return a field's value without what names an entry."""
    if isinstance(data, dict):
        return _fields_without(data, mark, gone)
    if isinstance(data, list) and isinstance(mark.children, list):
        kept = [
            _without(name, item, below, gone)
            for item, below in zip(data, mark.children, strict=True)
            if not gone(name, item) and not _link(item, gone)
        ]
        return [item for item, _ in kept], replace(mark, children=[below for _, below in kept])
    return data, mark


def _link(data: Data, gone: Callable[[str, Data], bool]) -> bool:
    return isinstance(data, dict) and any(gone(name, value) for name, value in data.items())


def _cannot_stand(kind: str, before: dict[str, Data], after: dict[str, Data]) -> bool:
    """Return whether a withdrawal took something that an entry cannot do without."""
    if kind == "check" and before.get("derived"):
        return before.get("from") != after.get("from")
    if kind == "length":
        return "check" not in after
    if kind not in _NEEDS:
        return False
    name, least = _NEEDS[kind]
    items = after.get(name)
    return isinstance(items, list) and len(items) < least and items != before.get(name)
