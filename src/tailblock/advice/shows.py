"""Which faults a check shows, directly or through a symptom, and what the answers so far touched.

In: the compiled network and its names, what was heard on each visit. Out: fault ids. Only the shape
of the network is asked, no probability.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.network.arrays import Finding
    from tailblock.network.compile import Compiled


def shown(checklist: Checklist, compiled: Compiled) -> Mapping[str, frozenset[str]]:
    """Return, for every check that applies, the faults that it shows on the last visit."""
    last = len(compiled.current) - 1
    return {
        name.check: faults_of(checklist, compiled, compiled.network.findings[index].parents)
        for index, name in enumerate(compiled.findings)
        if name.visit == last
    }


def looked_at(
    checklist: Checklist,
    compiled: Compiled,
    heard: Sequence[Heard],
    asked: Collection[str] = ("bench", "player"),
) -> frozenset[str]:
    """Return the faults that at least one answer shows.

    Parameters
    ----------
    heard
        For each visit what speaks. What was seen on an earlier visit stands as long as neither work
        nor time has touched the fault.
    asked
        Whose answers count: the bench's, the player's, or both.
    """
    return frozenset(
        fault
        for visit, check, finding in speaking(compiled, heard)
        if checklist.checks[check].asked in asked
        for fault in faults_of(checklist, compiled, finding.parents)
        if untouched(compiled, fault, visit)
    )


def at_the_top(checklist: Checklist, compiled: Compiled, heard: Sequence[Heard]) -> frozenset[str]:
    """Return the faults of which an answer reached the outermost level on the side that shows them.

    Parameters
    ----------
    heard
        As for `looked_at`.
    """
    return frozenset(
        fault
        for visit, check, finding in speaking(compiled, heard)
        for parents in _ends(checklist.checks[check], heard[visit].levels[check], finding)
        for fault in faults_of(checklist, compiled, parents)
        if untouched(compiled, fault, visit)
    )


def speaking(compiled: Compiled, heard: Sequence[Heard]) -> Iterator[tuple[int, str, Finding]]:
    """Yield what speaks: the visit, the check and its finding."""
    for visit, said in enumerate(heard):
        for spoken in said.spoken:
            finding = compiled.network.findings[compiled.index[spoken.check, visit]]
            yield visit, spoken.check, finding


def _ends(check: Check, level: str, finding: Finding) -> Iterator[tuple[int, ...]]:
    """Yield the nodes linked to the side whose outermost level this is, if it is one."""
    levels = levels_of(check)
    if level in levels.low[-1:]:
        yield finding.low.parents
    if level in levels.high[-1:]:
        yield finding.high.parents


def faults_of(checklist: Checklist, compiled: Compiled, nodes: Iterable[int]) -> frozenset[str]:
    """Return the faults among nodes, symptoms taken for the faults behind them."""
    parents = compiled.network.parents
    behind = (
        index
        for node in nodes
        for index in ((node,) if compiled.nodes[node].id in checklist.faults else parents[node])
    )
    return frozenset(compiled.nodes[index].id for index in behind)


def untouched(compiled: Compiled, fault: str, visit: int) -> bool:
    """Return whether a fault is on the last visit what it was on an earlier one."""
    return compiled.node_of(fault, visit) == compiled.node_of(fault)


def carried(compiled: Compiled, heard: Sequence[Heard]) -> frozenset[str]:
    """Return the checks whose answer of an earlier visit is about what is there now.

    Neither work nor time has touched anything that they show: read again they would tell what is
    known already, apart from the slips of a hand.
    """
    findings, last = compiled.network.findings, len(heard) - 1
    return frozenset(
        check
        for visit, check, finding in speaking(compiled, heard)
        if visit < last and finding.parents == findings[compiled.index[check, last]].parents
    )
