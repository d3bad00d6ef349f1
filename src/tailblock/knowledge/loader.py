"""From a folder of YAML files to a `Checklist`.

In: the folder, and where a checklist that it extends is looked for. Out: `Loaded`, the checklist or
nothing, with every problem of the run. What ties entries together is not judged here (see `lint`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import BaseModel, ValidationError

from tailblock.errors import Problem
from tailblock.knowledge.checklist import Checklist, Places
from tailblock.knowledge.entries import ChecklistFile, Sections, usual_stages
from tailblock.knowledge.files import read_folder
from tailblock.knowledge.library import HEAD, ChecklistNotFound, Shelves
from tailblock.knowledge.mending import nearest, problems_of
from tailblock.knowledge.raw import MODELS, SECTIONS, Pile, Raw

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tailblock.knowledge.yamlmarks import Data, Mark, Marked

_IN_HEAD_ONLY = frozenset({"parts", "traits", "stages"})
Model = TypeVar("Model", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Loaded:
    """What came of a folder: a checklist if there is no error, and all problems by place.

    `bases`: each checklist that it extends in turn, id and folder. `digests`: path to sha256 of
    every file that was read, those of the bases with them.
    """

    checklist: Checklist | None
    problems: tuple[Problem, ...]
    bases: tuple[tuple[str, Path], ...] = ()
    digests: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(slots=True)
class _Draft:
    """A checklist on its way: its head and where that stands, its entries as written."""

    head: ChecklistFile | None = None
    mark: Mark | None = None
    pile: Pile = field(default_factory=Pile)
    bases: tuple[tuple[str, Path], ...] = ()
    digests: dict[str, bytes] = field(default_factory=dict)


def load(folder: Path, shelves: Shelves | None = None) -> Loaded:
    """Read a checklist.

    Parameters
    ----------
    folder
        The folder that holds `checklist.yaml`; every `.yaml` file below it belongs to it.
    shelves
        Where a checklist that it extends is looked for, after the folder that it lies in itself.

    Returns
    -------
    Loaded
        With no checklist exactly if one of the problems is an error.
    """
    draft = _draft(folder, shelves or Shelves(), ())
    problems = draft.pile.problems
    entries: dict[str, dict[str, Any]] = {kind: {} for kind in MODELS}
    for raw in draft.pile.entries.values():
        entry = _judged(MODELS[raw.kind], raw.data, raw.mark, raw.id, problems)
        if entry is not None:
            entries[raw.kind][raw.id] = entry
    if draft.mark and not any(kind == "part" for kind, _ in draft.pile.entries):
        message, mend = "a checklist has at least one part", "add `parts: [{id: ..., name: ...}]`"
        problems.append(Problem(*draft.mark.place, "", "missing-field", message, mend))
    ordered = tuple(sorted(set(problems)))
    if draft.head is None or draft.mark is None or any(p.severity == "error" for p in ordered):
        return Loaded(None, ordered)
    places = Places(draft.mark, {key: raw.mark for key, raw in draft.pile.entries.items()})
    whole = _assembled(draft.head, entries, places)
    return Loaded(whole, ordered, draft.bases, draft.digests)


def _assembled(
    head: ChecklistFile, entries: Mapping[str, Mapping[str, Any]], places: Places
) -> Checklist:
    """Put judged entries together."""
    by_section = {section: entries[kind] for section, (kind, _) in SECTIONS.items()}
    if not by_section["stages"]:
        by_section["stages"] = {stage.id: stage for stage in usual_stages()}
    facts: dict[str, Any] = {
        name: getattr(head, name) for name in ("id", "title", "version", "licence")
    }
    constants: dict[str, Any] = {"setups": head.setups, "limits": head.limits}
    views: dict[str, Any] = {s: MappingProxyType(dict(found)) for s, found in by_section.items()}
    return Checklist(**facts, **constants, **views, places=places)


def _draft(folder: Path, shelves: Shelves, above: tuple[str, ...]) -> _Draft:
    """Read a folder, on top of the checklist that it extends."""
    read = read_folder(folder)
    files, problems = read.files, read.problems
    if not files or files[0].file != str(folder / HEAD):
        return _Draft(pile=Pile(problems=problems))
    head = _head(files[0], problems)
    draft = _Draft(head, files[0].root, Pile(problems=problems), digests=read.digests)
    name = folder.resolve().name
    if head and head.id != name:
        message = f"a checklist is found by its folder, and that is called {name}"
        at = files[0].root.below(["id"]).place
        problems.append(Problem(*at, head.id, "folder", message, severity="warning"))
    if head and head.extends:
        base = _base(folder, head, shelves, above)
        if isinstance(base, str):
            at = files[0].root.below(["extends"]).place
            problems.append(Problem(*at, head.id, "extends", base))
        else:
            _inherit(draft, head, base)
    inherited = tuple(draft.pile.entries)
    for marked in files:
        for raw in _entries(marked, draft.pile.problems, is_head=marked is files[0]):
            draft.pile.add(raw, inherited)
    for marked in files:
        _change(marked, draft.pile, inherited)
    return draft


def _base(
    folder: Path, head: ChecklistFile, shelves: Shelves, above: tuple[str, ...]
) -> _Draft | str:
    """Read the checklist that a head extends, or say why that cannot be."""
    base, line = str(head.extends), (*above, head.id)
    if base in line:
        return f"{' extends '.join((*line, base))}: nothing extends itself"
    try:
        found = shelves.find(base, folder.resolve().parent)
    except ChecklistNotFound as error:
        return str(error)
    draft = _draft(found, shelves, line)
    draft.bases = ((base, found), *draft.bases)
    return draft


def _inherit(draft: _Draft, head: ChecklistFile, base: _Draft) -> None:
    """Begin with the entries of another checklist, and with its constants where none are given."""
    draft.pile.entries.update(base.pile.entries)
    draft.pile.problems.extend(base.pile.problems)
    draft.bases = base.bases
    draft.digests.update(base.digests)
    if base.head is None:
        return
    setups = head.setups if "setups" in head.model_fields_set else base.head.setups
    own = {name: getattr(head.limits, name) for name in head.limits.model_fields_set}
    limits = base.head.limits.model_copy(update=own)
    draft.head = head.model_copy(update={"setups": setups, "limits": limits})


def _head(marked: Marked, problems: list[Problem]) -> ChecklistFile | None:
    """Judge what `checklist.yaml` says of the whole; its sections are left to the entries."""
    data = _mapping(marked.data)
    entry, version = str(data.get("id") or ""), data.get("tailblock")
    own = {name: value for name, value in data.items() if name not in _SECTION_NAMES}
    if version not in {None, "1"}:  # who knows what else is new in it
        own = {"tailblock": version, "id": "x", "title": "x", "version": "x"}
    return _judged(ChecklistFile, own, marked.root, entry, problems)


_SECTION_NAMES = frozenset(Sections.model_fields) | _IN_HEAD_ONLY


def _entries(marked: Marked, problems: list[Problem], *, is_head: bool) -> Iterator[Raw]:
    """Yield the entries of a file, section by section."""
    known = list(_SECTION_NAMES) if is_head else list(Sections.model_fields)
    for section in _mapping(marked.data):
        if section not in known:
            if not is_head:
                problems.append(_unknown_section(marked, section, known))
        elif section in SECTIONS:
            kind = SECTIONS[section][0]
            for data, mark in _items(marked, section, problems):
                raw = _raw(kind, data, mark, problems)
                if raw is not None:
                    yield raw


def _unknown_section(marked: Marked, section: str, known: list[str]) -> Problem:
    place = marked.root.name_below([section])
    if section in ChecklistFile.model_fields:
        message, mend = f"`{section}` belongs into checklist.yaml", "move it there"
    else:
        message, mend = f"unknown section `{section}`", nearest(section, known)
    return Problem(*place, "", "unknown-field", message, mend)


def _items(marked: Marked, section: str, problems: list[Problem]) -> Iterator[tuple[Data, Mark]]:
    """Yield the items of a section with their marks; an empty section has none."""
    items = _mapping(marked.data).get(section)
    mark = marked.root.below([section])
    if isinstance(items, list) and isinstance(mark.children, list):
        yield from zip(items, mark.children, strict=True)
    elif items is not None:
        message, mend = f"`{section}` must be a list", "begin each entry with `- id: ...`"
        problems.append(Problem(*mark.place, "", "bad-value", message, mend))


def _raw(kind: str, data: Data, mark: Mark, problems: list[Problem]) -> Raw | None:
    """Return an entry as written, or note why it cannot be told apart from others."""
    if isinstance(data, dict) and isinstance(data.get("id"), str):
        return Raw(kind, str(data["id"]), data, mark)
    message = (
        f"this {kind} has no id" if isinstance(data, dict) else f"a {kind} is a mapping of fields"
    )
    mend = "add `id: ...`, small letters, digits and hyphens"
    problems.append(Problem(*mark.place, "", "missing-field", message, mend))
    return None


def _change(marked: Marked, pile: Pile, inherited: tuple[tuple[str, str], ...]) -> None:
    """Carry out what a file overrides and withdraws."""
    for data, mark in _items(marked, "override", pile.problems):
        change = _raw("override", data, mark, pile.problems)
        if change is not None:
            pile.override(change, inherited)
    for data, mark in _items(marked, "withdraw", pile.problems):
        if isinstance(data, str):
            pile.withdraw(data, mark, inherited)
        else:
            message = "`withdraw` is a list of ids"
            pile.problems.append(Problem(*mark.place, "", "bad-value", message))


def _judged(
    model: type[Model], data: Mapping[str, Data], mark: Mark, entry: str, problems: list[Problem]
) -> Model | None:
    """Return the frozen entry, or note what is wrong with it."""
    try:
        return model.model_validate(data)
    except ValidationError as error:
        problems.extend(problems_of(error, model, mark, entry))
        return None


def _mapping(data: Data) -> dict[str, Data]:
    return data if isinstance(data, dict) else {}
