"""The chances that are written in and about an entry, each of which can be moved by a word.

In: a checklist and a fault, symptom or check of it. Out: `Number`s; a number moved gives the
checklist as it would be. The levels of one link move together, so that "at least" stays ordered.
What a checklist leaves to its usual values is no number of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from tailblock.knowledge.words import WORDS, shift, word_for

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pydantic import BaseModel

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Shows

_SECTIONS = {"fault": "faults", "symptom": "symptoms", "check": "checks"}
_LEVELS = ("at_least", "at_least_low", "at_least_high")
Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Number:
    """A chance, or the chances of one link for its levels.

    `says`: what it is a chance of. `kind` and `entry`: where it is written. `chances`: the path in
    that entry -> the chance.
    """

    says: str
    kind: str
    entry: str
    chances: Mapping[Path, float]

    @property
    def words(self) -> str:
        """Return the chances as they would be written."""
        return ", ".join(dict.fromkeys(spoken(chance) for chance in self.chances.values()))

    def moved(self, checklist: Checklist, steps: int) -> tuple[Checklist, str] | None:
        """Return the checklist with this a word up or down, and what it then says.

        None if the scale ends there.

        Parameters
        ----------
        steps
            1 or -1.
        """
        after = {path: _stepped(chance, steps) for path, chance in self.chances.items()}
        if after == dict(self.chances):
            return None
        section = _SECTIONS[self.kind]
        entries = dict(getattr(checklist, section))
        for path, chance in after.items():
            entries[self.entry] = _put(entries[self.entry], path, chance)
        changes: dict[str, Any] = {section: MappingProxyType(entries)}
        words = ", ".join(dict.fromkeys(spoken(chance) for chance in after.values()))
        return replace(checklist, **changes), words


def spoken(chance: float) -> str:
    """Return a chance as its word, or as the number with the nearest word.

    >>> spoken(0.8), spoken(0.98)
    ('usually', '0.98 (almost-always)')
    """
    word = word_for(chance)
    return word if WORDS[word] == chance else f"{chance:g} ({word})"


def numbers_of(checklist: Checklist, kind: str, entry: str) -> tuple[Number, ...]:
    """Return the chances that are written in an entry, then those written elsewhere about it.

    A remedy's chances act on later visits only and are none of these.
    """
    if kind == "check":
        return tuple(_of_check(checklist.checks[entry]))
    if kind in ("fault", "symptom"):
        return tuple(_of_hidden(checklist, kind, entry))
    return ()


def _of_check(check: Check) -> Iterator[Number]:
    for i, link in enumerate(check.shows):
        yield _of_link(check, i, link)
    otherwise: dict[Path, float] = {("otherwise", at): p for at, p in check.otherwise.items()}
    if otherwise:
        yield Number(f"{check.id} otherwise", "check", check.id, otherwise)


def _of_hidden(checklist: Checklist, kind: str, entry: str) -> Iterator[Number]:
    node = checklist.fault_or_symptom(entry)
    yield Number(f"{entry} alone", kind, entry, {("alone",): node.alone})
    for i, rule in enumerate(node.alone_when):
        if rule.alone is not None:
            when = when_said(rule.when)
            yield Number(
                f"{entry} alone{when}", kind, entry, {("alone_when", i, "alone"): rule.alone}
            )
    for i, cause in enumerate(node.caused_by):
        says = f"{cause.fault} brings about {entry}{when_said(cause.when)}"
        yield Number(says, kind, entry, {("caused_by", i, "strength"): cause.strength})
    for other in checklist.nodes():
        for i, cause in enumerate(other.caused_by):
            if cause.fault == entry:
                at = "fault" if other.id in checklist.faults else "symptom"
                says = f"{entry} brings about {other.id}{when_said(cause.when)}"
                yield Number(says, at, other.id, {("caused_by", i, "strength"): cause.strength})
    for check in checklist.checks.values():
        for i, link in enumerate(check.shows):
            if link.target == entry:
                yield _of_link(check, i, link)


def _of_link(check: Check, place: int, link: Shows) -> Number:
    chances: dict[Path, float] = {
        ("shows", place, side, level): chance
        for side in _LEVELS
        for level, chance in getattr(link, side).items()
    }
    says = f"{check.id} shows {link.target}{when_said(link.when)}"
    return Number(says, "check", check.id, chances)


def when_said(condition: Mapping[str, tuple[str, ...]]) -> str:
    """Return a condition in brackets, to stand behind what it is a condition of; empty if none.

    >>> when_said({"age": ("over-40", "over-80")})
    ' (age over-40 or over-80)'
    """
    said = ", ".join(f"{trait} {' or '.join(values)}" for trait, values in condition.items())
    return f" ({said})" if said else ""


def _stepped(chance: float, steps: int) -> float:
    """Return a chance a word away; one beyond the last word stays."""
    to = shift(chance, steps)
    return to if (to - chance) * steps > 0 else chance


def _put(value: Any, path: Path, chance: float) -> Any:
    """Return a value (model, tuple or mapping) with a chance in its place, all above it copied."""
    if not path:
        return chance
    step, *rest = path
    if isinstance(value, dict):
        return {**value, str(step): _put(value[str(step)], tuple(rest), chance)}
    if isinstance(value, tuple):
        at = int(step)
        return (*value[:at], _put(value[at], tuple(rest), chance), *value[at + 1 :])
    model: BaseModel = value
    below = _put(getattr(model, str(step)), tuple(rest), chance)
    return model.model_copy(update={str(step): below})
