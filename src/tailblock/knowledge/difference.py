"""What changed in meaning from one checklist to another.

In: two checklists. Out: `Change`s, entry by entry: added, removed, or changed with a line for each
field, chances in words. How the files are split, their comments and their order say nothing here.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from tailblock.knowledge.numbers import spoken

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist

# Kind -> the mapping of a checklist that holds it, in the order in which changes are told.
SECTIONS: Mapping[str, str] = {
    "part": "parts",
    "trait": "traits",
    "stage": "stages",
    "fault": "faults",
    "symptom": "symptoms",
    "check": "checks",
    "family": "families",
    "remedy": "remedies",
    "caution": "cautions",
    "source": "sources",
    "length": "geometry",
    "sum": "arithmetic",
}
_CHANCES = frozenset({"alone", "strength", "how_well", "chance"})
_OF_CHANCES = frozenset({"at_least", "at_least_low", "at_least_high", "otherwise"})
# The fields by which the items of a list are told apart, in the order in which they are looked for.
_NAMES = ("id", "fault", "symptom", "level", "check", "remedy", "when", "from", "text")
_SHORT = 60  # characters; a longer text that changed is only called reworded


@dataclass(frozen=True, slots=True)
class Change:
    """One entry that is new, gone or different; `lines` say how, one a field."""

    kind: str
    id: str
    what: Literal["added", "removed", "changed"]
    lines: tuple[str, ...] = ()


def differences(old: Checklist, new: Checklist) -> tuple[Change, ...]:
    """Return what changed, section by section, in the order of the new files."""
    return (*_of_the_whole(old, new), *(c for kind in SECTIONS for c in _of(kind, old, new)))


def _of_the_whole(old: Checklist, new: Checklist) -> Iterator[Change]:
    lines: list[str] = []
    for name in ("id", "title", "version", "licence"):
        lines += _lines(name, getattr(old, name), getattr(new, name))
    for name in ("setups", "limits"):
        before, after = getattr(old, name), getattr(new, name)
        lines += _lines(name, before.model_dump(mode="json"), after.model_dump(mode="json"))
    if lines:
        yield Change("checklist", new.id, "changed", tuple(lines))


def _of(kind: str, old: Checklist, new: Checklist) -> Iterator[Change]:
    before, after = getattr(old, SECTIONS[kind]), getattr(new, SECTIONS[kind])
    for id_, entry in after.items():
        if id_ not in before:
            yield Change(kind, id_, "added", _first_words(kind, entry))
            continue
        was, now = (each.model_dump(mode="json", by_alias=True) for each in (before[id_], entry))
        lines = tuple(_lines("", was, now))
        if lines:
            yield Change(kind, id_, "changed", lines)
    for id_, entry in before.items():
        if id_ not in after:
            yield Change(kind, id_, "removed", _first_words(kind, entry))


def _first_words(kind: str, entry: Any) -> tuple[str, ...]:
    """Return what tells a reader which entry it is."""
    name = {"check": "title", "caution": "title", "source": "citation", "trait": "ask"}
    said = getattr(entry, name.get(kind, "name"), None)
    return (str(said),) if said else ()


def _lines(at: str, before: Any, after: Any, *, chance: bool = False) -> Iterator[str]:
    """Yield a line for each thing below `at` that is different."""
    if before == after:
        return
    if isinstance(before, dict) and isinstance(after, dict):
        yield from _of_mapping(at, before, after)
    elif isinstance(before, list) and isinstance(after, list):
        yield from _of_list(at, before, after)
    else:
        yield f"{at}: {_change(before, after, chance=chance)}"


def _of_mapping(at: str, before: dict[str, Any], after: dict[str, Any]) -> Iterator[str]:
    field = at.rsplit(" ", maxsplit=1)[-1]
    for name in dict.fromkeys((*after, *before)):
        below = f"{at} {name}".strip()
        chance = name in _CHANCES or field in _OF_CHANCES
        yield from _lines(below, before.get(name), after.get(name), chance=chance)


def _of_list(at: str, before: Sequence[Any], after: Sequence[Any]) -> Iterator[str]:
    """Compare by what the items are about; where only the order changed, say that."""
    was, now = _by_name(before), _by_name(after)
    for name, item in now.items():
        if name not in was:
            yield f"{at}: {_item(name, item)} added"
        else:
            yield from _lines(f"{at} {name}", was[name], item)
    for name, item in was.items():
        if name not in now:
            yield f"{at}: {_item(name, item)} removed"
    if was == now:
        yield f"{at}: in another order"


def _by_name(items: Sequence[Any]) -> dict[str, Any]:
    names = [_name(item) for item in items]
    often, seen = Counter(names), Counter[str]()
    named = {}
    for name, item in zip(names, items, strict=True):
        seen[name] += 1
        named[f"{name} ({seen[name]})" if often[name] > 1 else name] = item
    return named


def _name(item: Any) -> str:
    """Return what an item is about: `bridge-warped`, or `bridge-warped (age over-40)`."""
    if not isinstance(item, dict):
        return str(item)
    about = next((item[name] for name in _NAMES if item.get(name)), "one")
    when = item.get("when")
    said = _condition(about) if isinstance(about, dict) else str(about)
    return f"{said} ({_condition(when)})" if when and when is not about else said


def _condition(condition: Mapping[str, Any]) -> str:
    return ", ".join(
        f"{name} {' or '.join(values) if isinstance(values, list) else values}"
        for name, values in condition.items()
    )


def _item(name: str, item: Any) -> str:
    """Return an item with the chance that it carries, if it carries one."""
    if not isinstance(item, dict):
        return name
    chance = next((item[field] for field in _CHANCES if item.get(field) is not None), None)
    return name if chance is None else f"{name}, {spoken(chance)},"


def _change(before: Any, after: Any, *, chance: bool) -> str:
    if any(isinstance(each, str) and len(each) > _SHORT for each in (before, after)):
        return {True: "written", False: "reworded"}[before is None] if after else "left out"
    was, now = (_value(each, chance=chance) for each in (before, after))
    return f"{was} -> {now}"


def _value(value: Any, *, chance: bool) -> str:
    if value is None or value in ([], {}):
        return "nothing"
    if chance and isinstance(value, float):
        return spoken(value)
    if isinstance(value, dict):
        return _condition(value)
    if isinstance(value, list):
        return ", ".join(map(_name, value))
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, float) else str(value)
