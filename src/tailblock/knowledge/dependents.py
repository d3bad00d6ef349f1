"""What depends on an entry of a checklist: everything that names it, and how.

In: a checklist and an id. Out: the kinds of entry that the id is, and for each the entries that
name it, in words. What is shown only through a symptom stands there too, with the symptom.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.knowledge.coverage import direct
from tailblock.knowledge.lint.references import ids_by_kind
from tailblock.knowledge.lint.walk import conditions, links
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.knowledge.checklist import Checklist

# Kind of what names it, and the field in which it does -> what that means for what is named.
_MEANS = {
    ("fault", "caused_by"): "brings about",
    ("symptom", "caused_by"): "shows as the symptom",
    ("check", "shows"): "shown by",
    ("fault", "rivals"): "imitated by",
    ("remedy", "fixes"): "mended by",
    ("remedy", "may_reveal"): "may be revealed by",
    ("remedy", "may_leave"): "may be left by",
    ("remedy", "waits_for"): "mended before",
    ("check", "gate"): "counts only if",
    ("check", "follows"): "followed by",
    ("check", "from"): "worked out from it",
    ("family", "checks"): "in the family",
    ("stage", "opening"): "in the opening of",
    ("check", "stages"): "the only stage of",
    ("remedy", "watch"): "looked at again after",
    ("remedy", "needs"): "needed by",
    ("length", "check"): "read as",
    ("sum", "remedies"): "sized by",
}
_OTHERWISE = {"part": "holds", "cautions": "goes with", "sources": "source of"}
_TRAIT = "decides over"
_THROUGH = "shown through {symptom} by"


class NoSuchEntry(TailblockError):
    """An id that the checklist does not have."""

    def __init__(self, entry: str, checklist: Checklist) -> None:
        self.entry = entry
        known = [id_ for kind in _kinds(checklist).values() for id_ in kind]
        mend = nearest(entry, known) or f"`tailblock table {checklist.id}` lists what there is"
        super().__init__(f"there is no entry {entry!r} in {checklist.id} ({mend})")


@dataclass(frozen=True, slots=True)
class Dependent:
    """An entry that names another: in which way, and its kind and id."""

    how: str
    kind: str
    id: str


def kinds_of(checklist: Checklist, entry: str) -> tuple[str, ...]:
    """Return what an id is: most often one kind of entry, but a part and a trait may share it.

    Raises
    ------
    NoSuchEntry
    """
    found = tuple(kind for kind, ids in _kinds(checklist).items() if entry in ids)
    if not found:
        raise NoSuchEntry(entry, checklist)
    return found


def dependents(checklist: Checklist, kind: str, entry: str) -> tuple[Dependent, ...]:
    """Return everything that names an entry of a kind, each once, in the order of the files."""
    return tuple(dict.fromkeys(_naming(checklist, kind, entry)))


def _naming(checklist: Checklist, kind: str, entry: str) -> Iterator[Dependent]:
    for link in links(checklist):
        if link.named == entry and kind in link.wanted:
            field = str(link.spot.path[0])
            how = _MEANS.get((link.spot.kind, field)) or _OTHERWISE.get(field, field)
            yield Dependent(how, link.spot.kind, link.spot.entry)
    if kind == "fault":
        shown = direct(checklist)
        for symptom in checklist.symptoms.values():
            if any(cause.fault == entry for cause in symptom.caused_by):
                for check in shown.get(symptom.id, {}):
                    yield Dependent(_THROUGH.format(symptom=symptom.id), "check", check)
    if kind == "trait":
        for spot, condition in conditions(checklist):
            if entry in condition:
                yield Dependent(_TRAIT, spot.kind, spot.entry)


def _kinds(checklist: Checklist) -> dict[str, list[str]]:
    """Return the ids of each kind of entry; quantities are none."""
    return {kind: list(ids) for kind, ids in ids_by_kind(checklist).items() if kind != "quantity"}
