"""Which chances of a checklist stand behind each number of a compiled network.

In: a `Compiled` network, its checklist and the traits. Out: for each number of the network, in the
order of `numbers_of`, the written chances that it is made of.

A starting chance may be written for some traits (`alone_when`), and where a trait is unknown
several of them are averaged. What work, weather and time do between visits is made of other
constants: these numbers have no written chance here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.knowledge import traits

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault, Symptom
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class Written:
    """A chance that a checklist gives: a starting chance, or the strength of a link.

    `entry`: the fault or symptom in which it stands. `cause`: the place of the link in its
    `caused_by`, None for a starting chance. `rules`: of a starting chance those of its `alone_when`
    that decide, by place; none for the plain one.
    """

    entry: str
    cause: int | None = None
    rules: tuple[int, ...] = ()


Mixture = tuple[tuple[Written, float], ...]  # each with the probability that it is the one


def value_of(written: Written, checklist: Checklist) -> float:
    """Return what the checklist says.

    Raises
    ------
    KeyError
        It has no such fault or symptom.
    """
    node = checklist.fault_or_symptom(written.entry)
    if written.cause is None:
        return traits.alone_under(node, written.rules)
    return node.caused_by[written.cause].strength


def written_in(
    compiled: Compiled, checklist: Checklist, known: Mapping[str, str]
) -> tuple[Mixture, ...]:
    """Return the written chances behind each number: all leaks, then the links node by node.

    A leak is the mean of its chances, each with its weight; where the weights add up to less than
    1, the rest is 0. Of a link each chance acts by itself, with its weight times its strength. A
    number with none is made of something else.
    """
    nodes = [
        checklist.fault_or_symptom(name.id)
        if name.visit == 0 or name.id in checklist.symptoms
        else None
        for name in compiled.nodes
    ]
    leaks = (_starting(node, checklist, known) if node else () for node in nodes)
    links = (
        tuple(_linked(node, compiled.nodes[cause].id, checklist, known)) if node else ()
        for node, causes in zip(nodes, compiled.network.parents, strict=True)
        for cause in causes
    )
    return (*leaks, *links)


def _starting(node: Fault | Symptom, checklist: Checklist, known: Mapping[str, str]) -> Mixture:
    return tuple(
        (Written(node.id, rules=rules), weight)
        for rules, weight in traits.alone_rules(node, known, checklist)
    )


def _linked(
    node: Fault | Symptom, cause: str, checklist: Checklist, known: Mapping[str, str]
) -> Iterator[tuple[Written, float]]:
    for place, link in enumerate(node.caused_by):
        if link.fault == cause:
            holds = traits.cause_share(node, link, known, checklist)
            if holds > 0.0:
                yield Written(node.id, cause=place), holds
