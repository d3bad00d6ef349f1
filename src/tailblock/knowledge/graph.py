"""Parts of a checklist as graphs: what brings what about, what shows it, what mends it.

In: a checklist, and a part or a fault of it. Out: a `Graph` of boxes and arrows; how it is laid out
and drawn is not decided here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.errors import TailblockError
from tailblock.knowledge.coverage import direct
from tailblock.knowledge.levels import shown
from tailblock.knowledge.mending import nearest
from tailblock.knowledge.words import word_for

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Cause, Check, Condition

Kind = Literal["fault", "symptom", "check", "remedy"]


class NotInTheChecklist(TailblockError):
    """A part or fault is asked for that the checklist does not have."""

    def __init__(self, kind: str, given: str, checklist: Checklist, known: Iterable[str]) -> None:
        self.kind, self.given = kind, given
        mend = nearest(given, known) or f"`tailblock table {checklist.id}` lists what there is"
        super().__init__(f"there is no {kind} {given!r} in {checklist.id} ({mend})")


@dataclass(frozen=True, slots=True)
class Box:
    """An entry: its kind and what one wants to know of it at a glance, then its name.

    `main`: it is what was asked for, not only a neighbour.
    """

    kind: Kind
    id: str
    about: str
    name: str
    main: bool = False


@dataclass(frozen=True, slots=True)
class Arrow:
    """From one box to another by id: brings about or shows with this chance, or mends.

    `word` is the chance in the nearest word, and for which traits, if not for all.
    """

    source: str
    target: str
    chance: float
    word: str
    mends: bool = False


@dataclass(frozen=True, slots=True)
class Graph:
    """Boxes by id and arrows between them; there is no ring of arrows."""

    title: str
    boxes: Mapping[str, Box]
    arrows: tuple[Arrow, ...]


def graph_of_part(checklist: Checklist, part: str, depth: int = 1) -> Graph:
    """Return the faults and symptoms of a part, and the faults elsewhere that cause them.

    Parameters
    ----------
    depth
        How many steps back along the causes it goes, at least 0.

    Raises
    ------
    NotInTheChecklist
    """
    if part not in checklist.parts:
        raise NotInTheChecklist("part", part, checklist, checklist.parts)
    own = [node.id for node in checklist.nodes() if node.part == part]
    draft = _Draft(checklist, own)
    draft.hidden(_behind(checklist, own, depth))
    return draft.graph(f"{checklist.parts[part].name}: what brings what about")


def graph_of_fault(checklist: Checklist, fault: str, depth: int = 1) -> Graph:
    """Return a fault with its causes, what it brings about, its checks and its remedies.

    Parameters
    ----------
    depth
        How many steps back along the causes it goes, at least 0.

    Raises
    ------
    NotInTheChecklist
    """
    if fault not in checklist.faults:
        raise NotInTheChecklist("fault", fault, checklist, checklist.faults)
    effects = [
        node.id
        for node in checklist.nodes()
        if any(cause.fault == fault for cause in node.caused_by)
    ]
    draft = _Draft(checklist, [fault])
    draft.hidden({*_behind(checklist, [fault], depth), *effects})
    shows = direct(checklist)
    for node in (fault, *(effect for effect in effects if effect in checklist.symptoms)):
        for check in shows.get(node, {}).values():
            draft.check(check)
    for remedy in checklist.remedies.values():
        for fixed in remedy.fixes:
            if fixed.fault == fault:
                about = f"remedy, {remedy.hours.likely:g} h"
                draft.add(Box("remedy", remedy.id, about, remedy.name))
                draft.arrows.append(
                    Arrow(remedy.id, fault, fixed.how_well, word_for(fixed.how_well), mends=True)
                )
    return draft.graph(f"{checklist.faults[fault].name}: causes, looks, remedies")


class _Draft:
    """A graph that grows."""

    def __init__(self, checklist: Checklist, main: Iterable[str]) -> None:
        self._checklist = checklist
        self._main = frozenset(main)
        self._boxes: dict[str, Box] = {}
        self.arrows: list[Arrow] = []

    def add(self, box: Box) -> None:
        self._boxes[box.id] = box

    def hidden(self, wanted: Iterable[str]) -> None:
        """Add faults and symptoms, and the arrows between them."""
        names = set(wanted)
        for node in self._checklist.nodes():
            if node.id not in names:
                continue
            fault = self._checklist.faults.get(node.id)
            about = f"{_kind(fault.kind)}, {_harm(fault.harm)}" if fault else "symptom"
            if node.id not in self._main:
                about += f", {self._checklist.parts[node.part].name.lower()}"
            kind: Kind = "fault" if fault else "symptom"
            self.add(Box(kind, node.id, about, node.name, main=node.id in self._main))
            for cause in node.caused_by:
                if cause.fault in names:
                    self.arrows.append(_brings_about(cause, node.id))

    def check(self, check: Check) -> None:
        """Add a check, with arrows from the main fault and its symptoms, whatever else it shows."""
        who = "complaint" if check.asked == "player" else "check"
        minutes = "" if check.derived else f", {check.minutes:g} min"
        self.add(Box("check", check.id, f"{who}{minutes}", check.title))
        for link in check.shows:
            if link.target in self._boxes and (
                link.target in self._main or link.target in self._checklist.symptoms
            ):
                chances = shown(check, link)
                chance = max([*chances.low, *chances.high])
                self.arrows.append(
                    Arrow(link.target, check.id, chance, word_for(chance) + _if(link.when))
                )

    def graph(self, title: str) -> Graph:
        return Graph(title, self._boxes, tuple(dict.fromkeys(self.arrows)))


def _brings_about(cause: Cause, target: str) -> Arrow:
    word = word_for(cause.strength) + _if(cause.when)
    return Arrow(cause.fault, target, cause.strength, word)


def _behind(checklist: Checklist, nodes: Iterable[str], depth: int) -> set[str]:
    """Return nodes with all causes up to so many steps back."""
    found = set(nodes)
    edge = set(found)
    for _ in range(depth):
        edge = {
            cause.fault for node in edge for cause in checklist.fault_or_symptom(node).caused_by
        } - found
        found |= edge
    return found


def _kind(kind: str) -> str:
    return "fault" if kind == "condition" else kind


def _harm(harm: str) -> str:
    return "harmless" if harm == "none" else harm


def _if(when: Condition) -> str:
    if not when:
        return ""
    held = (f"{trait.replace('-', ' ')} {' or '.join(values)}" for trait, values in when.items())
    return ", if " + " and ".join(held)
