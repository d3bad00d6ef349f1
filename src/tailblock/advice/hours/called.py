"""Which work is done: as a rule about the faults that are there.

In: the pieces of a plan, the checklist, what is known of the instrument. Out: `Rules`: for each
piece of work that may come up, the sets of faults of which one must be there whole. A set without
faults is always whole; that is work that is done in any case.

Work serves faults and is done if one of them is there; nobody reglues what proves sound. Work that
is opened may reveal a fault: one that no piece of the plan serves calls a remedy of the plan that
is meant for it, else the first that the checklist lists, with all that this one needs, and so on
until nothing new comes up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.returning import meant_for
from tailblock.knowledge.traits import applies

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist

Faults = frozenset[str]
Terms = frozenset[Faults]  # done if all faults of at least one of these are there

ALWAYS: Terms = frozenset({frozenset()})


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of work of a plan.

    It is done if one of the faults that it `serves` is there, or `always`. What serves nothing
    and is not done always comes up only if other work needs it.
    """

    remedy: str
    serves: tuple[str, ...]
    always: bool = False


@dataclass(frozen=True, slots=True)
class Rules:
    """When each piece of work is done.

    `terms`: remedy -> its terms, in the order in which work comes up, what is needed first before
    what needs it. `planned`: the remedies of the plan; the others are called by what is revealed.
    `revealed_by`: remedy that is called -> the faults that call it.
    """

    terms: Mapping[str, Terms]
    planned: frozenset[str]
    revealed_by: Mapping[str, tuple[str, ...]]

    @property
    def faults(self) -> tuple[str, ...]:
        """Return every fault that decides about work, once."""
        found = (fault for terms in self.terms.values() for term in terms for fault in sorted(term))
        return tuple(dict.fromkeys(found))


def rules_of(
    pieces: Iterable[Piece],
    checklist: Checklist,
    traits: Mapping[str, str],
    possible: Collection[str],
) -> Rules:
    """Return when each piece of work is done.

    Parameters
    ----------
    pieces
        The plan, in working order. A remedy that comes twice serves the faults of both.
    traits
        What is known of the instrument: remedies that do not apply are not called.
    possible
        The faults that the instrument can have; no other is ever there.

    Raises
    ------
    KeyError
        The checklist has no such remedy.
    """
    wanted: dict[str, Terms] = {}
    for piece in pieces:
        each = (frozenset({fault}) for fault in piece.serves if fault in possible)
        terms = ALWAYS if piece.always else frozenset(each)
        wanted[piece.remedy] = _shortest(wanted.get(piece.remedy, frozenset()) | terms)
    planned = frozenset(wanted)
    served = {fault for terms in wanted.values() for term in terms for fault in term}
    calls = {
        fault: remedy
        for fault, remedy in _first_remedies(checklist, traits, list(wanted)).items()
        if fault in possible and fault not in served and checklist.faults[fault].kind == "condition"
    }
    found = dict(wanted)
    waiting = list(wanted)
    revealed_by: dict[str, dict[str, None]] = {}
    while waiting:
        remedy = checklist.remedies[waiting.pop(0)]
        mine = found[remedy.id]
        led_to = [(needed, mine) for needed in remedy.needs.remedies]
        for reveal in remedy.may_reveal:
            if reveal.fault in calls:
                there = frozenset(term | {reveal.fault} for term in mine)
                led_to.append((calls[reveal.fault], there))
                revealed_by.setdefault(calls[reveal.fault], {})[reveal.fault] = None
        for other, terms in led_to:
            before = found.get(other, frozenset())
            after = _shortest(before | terms)
            if after != before:
                found[other] = after
                waiting.append(other)
    order = _needed_first(found, checklist)
    return Rules(
        terms={remedy: found[remedy] for remedy in order if found[remedy]},
        planned=planned,
        revealed_by={remedy: tuple(faults) for remedy, faults in revealed_by.items()},
    )


def _first_remedies(
    checklist: Checklist, traits: Mapping[str, str], planned: Sequence[str]
) -> dict[str, str]:
    """Return for each fault the first remedy that is meant for it and applies: planned ones first.

    Planned work that a revealed fault calls is not done twice.
    """
    listed = [r.id for r in checklist.remedies.values() if applies(r, traits, checklist)]
    first: dict[str, str] = {}
    for id_ in (*planned, *listed):
        for fault in meant_for(checklist.remedies[id_]):
            first.setdefault(fault, id_)
    return first


def _shortest(terms: Terms) -> Terms:
    """Leave out a term that holds only where a shorter one holds already."""
    return frozenset(term for term in terms if not any(other < term for other in terms))


def _needed_first(found: Collection[str], checklist: Checklist) -> tuple[str, ...]:
    order: dict[str, None] = {}
    begun: set[str] = set()

    def take(remedy: str) -> None:
        if remedy in begun or remedy not in found:
            return
        begun.add(remedy)
        for needed in checklist.remedies[remedy].needs.remedies:
            take(needed)
        order[remedy] = None

    for remedy in found:
        take(remedy)
    return tuple(order)
