"""Checklist + traits + the skeleton of the visits -> a network of arrays, and the names behind it.

In: a `Checklist`, the instrument's traits, `VisitSkeleton`s. Out: `Compiled`. Readings are no
part of it: one network serves every reading of the same instrument and work.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache
from graphlib import TopologicalSorter
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge import levels, traits
from tailblock.network.arrays import Finding, Network, Side, frozen
from tailblock.network.timeline import Passage, after_weather, after_work, onset

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Fault, Symptom
    from tailblock.network.timeline import VisitSkeleton


@dataclass(frozen=True, slots=True)
class NodeName:
    """Which fault or symptom a node is, and from which visit on."""

    id: str
    visit: int


@dataclass(frozen=True, slots=True)
class FindingName:
    """Which check on which visit a finding is."""

    check: str
    visit: int


@dataclass(frozen=True, slots=True)
class Compiled:
    """A network with the names of its indexes.

    `current[v]` maps the id of every fault and symptom that applies to its node on visit v.
    """

    network: Network
    nodes: tuple[NodeName, ...]
    findings: tuple[FindingName, ...]
    current: tuple[Mapping[str, int], ...]
    index: Mapping[tuple[str, int], int]

    def node_of(self, entry: str, visit: int = -1) -> int:
        """Return the node of a fault or symptom on a visit (the last one if not said).

        Raises
        ------
        KeyError
            It does not apply to this instrument.
        """
        return self.current[visit][entry]

    def finding_of(self, check: str, visit: int) -> int | None:
        """Return the finding of a check on a visit, or None if it does not apply."""
        return self.index.get((check, visit))


def links_of(
    entry: Fault | Symptom,
    nodes: Mapping[str, int],
    checklist: Checklist,
    known: Mapping[str, str],
) -> dict[int, float]:
    """Return cause node -> strength; two links from one cause act one beside the other."""
    spared: dict[int, float] = defaultdict(lambda: 1.0)
    for cause in entry.caused_by:
        if cause.fault in nodes:
            strength = traits.strength(entry, cause, known, checklist)
            spared[nodes[cause.fault]] *= 1.0 - strength
    return {node: 1.0 - rest for node, rest in spared.items()}


class _Draft:
    """A network that grows visit by visit."""

    def __init__(self, checklist: Checklist, known: Mapping[str, str]) -> None:
        self.checklist = checklist
        self.known = known
        self.alone: list[float] = []
        self.causes: list[dict[int, float]] = []
        self.names: list[NodeName] = []
        self.faults = [
            fault for fault in checklist.faults.values() if traits.applies(fault, known, checklist)
        ]
        self.symptoms = [
            symptom
            for symptom in checklist.symptoms.values()
            if traits.applies(symptom, known, checklist)
        ]

    def add(self, entry: str, visit: int, alone: float, causes: Mapping[int, float]) -> int:
        self.alone.append(alone)
        self.causes.append({node: chance for node, chance in causes.items() if chance > 0.0})
        self.names.append(NodeName(entry, visit))
        return len(self.names) - 1

    def starting(self, entry: Fault | Symptom) -> float:
        return traits.alone(entry, self.known, self.checklist)

    def links(self, entry: Fault | Symptom, nodes: Mapping[str, int]) -> dict[int, float]:
        return links_of(entry, nodes, self.checklist, self.known)

    def arrive(self) -> dict[str, int]:
        """Add every fault, causes first, then the symptoms."""
        ids = {fault.id: fault for fault in self.faults}
        order = TopologicalSorter(
            {
                fault.id: [c.fault for c in fault.caused_by if c.fault in ids]
                for fault in self.faults
            }
        )
        nodes: dict[str, int] = {}
        for entry in order.static_order():
            fault = ids[entry]
            nodes[entry] = self.add(entry, 0, self.starting(fault), self.links(fault, nodes))
        for symptom in self.symptoms:
            links = self.links(symptom, nodes)
            nodes[symptom.id] = self.add(symptom.id, 0, self.starting(symptom), links)
        return nodes

    def pass_on(
        self, before: Mapping[str, int], visit: int, gap: float, work: set[str]
    ) -> dict[str, int]:
        """Add what is new on a visit: faults that time or work has touched, and what they show."""
        done = [
            self.checklist.remedies[remedy] for remedy in self.checklist.remedies if remedy in work
        ]
        limits = self.checklist.limits
        nodes = dict(before)
        for fault in self.faults:
            if fault.kind == "climate":
                self.replace(
                    nodes, fault.id, visit, after_weather(self.starting(fault), gap, limits)
                )
            share = onset(fault, gap, limits)
            if share is not None:
                self.age(nodes, fault, visit, share, before)
            passage = after_work(fault, done)
            if passage is not None:
                self.replace(nodes, fault.id, visit, passage)
        changed = {entry for entry in nodes if nodes[entry] != before[entry]}
        for symptom in self.symptoms:
            if any(cause.fault in changed for cause in symptom.caused_by):
                links = self.links(symptom, nodes)
                nodes[symptom.id] = self.add(symptom.id, visit, self.starting(symptom), links)
        return nodes

    def replace(self, nodes: dict[str, int], entry: str, visit: int, passage: Passage) -> None:
        nodes[entry] = self.add(entry, visit, passage.leak, {nodes[entry]: passage.strength})

    def age(
        self,
        nodes: dict[str, int],
        fault: Fault,
        visit: int,
        share: float,
        before: Mapping[str, int],
    ) -> None:
        """Let a condition set in anew; one that was repaired also by the causes that remain."""
        causes = {before[fault.id]: 1.0}
        if self.names[before[fault.id]].visit > 0:
            for node, strength in self.links(fault, before).items():
                if self.checklist.faults[self.names[node].id].kind == "condition":
                    causes[node] = strength * share
        nodes[fault.id] = self.add(fault.id, visit, self.starting(fault) * share, causes)


def compile_network(
    checklist: Checklist, known: Mapping[str, str], visits: Sequence[VisitSkeleton]
) -> Compiled:
    """Return the network of an instrument with these traits over these visits.

    It is made once and handed out again for the same: nothing in it can be written to.

    Parameters
    ----------
    checklist
        The knowledge.
    known
        Trait -> value; a trait that is missing or `unknown` is averaged over its shares.
    visits
        At least one, in order.
    """
    return _compiled(checklist, tuple(sorted(known.items())), tuple(visits))


@lru_cache(maxsize=8)
def _compiled(
    checklist: Checklist, traits_known: tuple[tuple[str, str], ...], visits: Sequence[VisitSkeleton]
) -> Compiled:
    known = dict(traits_known)
    draft = _Draft(checklist, known)
    current = [draft.arrive()]
    for visit in range(1, len(visits)):
        gap = (visits[visit].day - visits[visit - 1].day).days
        current.append(draft.pass_on(current[-1], visit, gap, set(visits[visit].work)))
    findings: list[Finding] = []
    names: list[FindingName] = []
    for check in checklist.checks.values():
        if traits.applies(check, known, checklist):
            for visit, nodes in enumerate(current):
                findings.append(_finding(check, checklist, known, nodes))
                names.append(FindingName(check.id, visit))
    network = Network(
        frozen(np.array(draft.alone)),
        tuple(tuple(sorted(causes)) for causes in draft.causes),
        tuple(tuple(causes[node] for node in sorted(causes)) for causes in draft.causes),
        tuple(findings),
    )
    index = {(name.check, name.visit): k for k, name in enumerate(names)}
    return Compiled(
        network,
        tuple(draft.names),
        tuple(names),
        tuple(MappingProxyType(nodes) for nodes in current),
        MappingProxyType(index),
    )


def _finding(
    check: Check, checklist: Checklist, known: Mapping[str, str], nodes: Mapping[str, int]
) -> Finding:
    """Return a check's finding on the nodes of one visit.

    A link that holds for some values of an unknown trait counts with their share; two links to
    one node act one beside the other.
    """
    scale = levels.levels_of(check)
    leak = levels.leak(check)
    low: dict[int, list[float]] = {}
    high: dict[int, list[float]] = {}
    for link in check.shows:
        holds = traits.link_share(link, known, checklist)
        if link.target not in nodes or holds == 0.0:
            continue
        node = nodes[link.target]
        shown = levels.shown(check, link)
        for side, chances in ((low, shown.low), (high, shown.high)):
            if any(chances):
                spared = [1.0 - holds * chance for chance in chances]
                before = side.get(node, [1.0] * len(spared))
                side[node] = [one * other for one, other in zip(before, spared, strict=True)]
    return Finding(_side(low, leak.low, len(scale.low)), _side(high, leak.high, len(scale.high)))


def _side(links: Mapping[int, Sequence[float]], leak: Sequence[float], top: int) -> Side:
    """Return one side: P(level <= l) is the chance of not reaching level l + 1."""
    parents = tuple(sorted(links))
    rows = [[*links[parent], 1.0] for parent in parents]
    return Side(
        parents,
        frozen(np.array(rows).reshape(len(parents), top + 1)),
        frozen(np.array([*(1.0 - chance for chance in leak), 1.0])),
    )
