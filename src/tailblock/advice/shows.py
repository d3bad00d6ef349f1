"""Which faults a check shows, directly or through a symptom, and what the answers so far touched.

In: the compiled network and its names, what was heard on each visit. Out: fault ids. Only the shape
of the network is asked, no probability.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.compile import Compiled


def shown(checklist: Checklist, compiled: Compiled) -> Mapping[str, frozenset[str]]:
    """Return, for every check that applies, the faults that it shows on the last visit."""
    last = len(compiled.current) - 1
    return {
        name.check: _faults(checklist, compiled, compiled.network.findings[index].parents)
        for index, name in enumerate(compiled.findings)
        if name.visit == last
    }


def looked_at(checklist: Checklist, compiled: Compiled, heard: Sequence[Heard]) -> frozenset[str]:
    """Return the faults that at least one answer shows.

    Parameters
    ----------
    heard
        For each visit what speaks. What was seen on an earlier visit stands as long as neither work
        nor time has touched the fault.
    """
    seen: set[str] = set()
    for visit, said in enumerate(heard):
        for spoken in said.spoken:
            index = compiled.finding_of(spoken.check, visit)
            if index is not None:
                faults = _faults(checklist, compiled, compiled.network.findings[index].parents)
                seen.update(_untouched(compiled, faults, visit))
    return frozenset(seen)


def at_the_top(checklist: Checklist, compiled: Compiled, heard: Sequence[Heard]) -> frozenset[str]:
    """Return the faults of which an answer reached the outermost level on the side that shows them.

    Parameters
    ----------
    heard
        As for `looked_at`.
    """
    touched: set[str] = set()
    for visit, said in enumerate(heard):
        for spoken in said.spoken:
            index = compiled.finding_of(spoken.check, visit)
            if index is None:
                continue
            finding = compiled.network.findings[index]
            ends = levels_of(checklist.checks[spoken.check])
            level = said.levels[spoken.check]
            for side, parents in (
                (ends.low, finding.low.parents),
                (ends.high, finding.high.parents),
            ):
                if side and level == side[-1]:
                    faults = _faults(checklist, compiled, parents)
                    touched.update(_untouched(compiled, faults, visit))
    return frozenset(touched)


def _faults(checklist: Checklist, compiled: Compiled, nodes: Iterable[int]) -> frozenset[str]:
    """Return the faults among nodes, symptoms taken for the faults behind them."""
    parents = compiled.network.parents
    behind = (
        index
        for node in nodes
        for index in ((node,) if compiled.nodes[node].id in checklist.faults else parents[node])
    )
    return frozenset(compiled.nodes[index].id for index in behind)


def _untouched(compiled: Compiled, faults: Iterable[str], visit: int) -> Iterator[str]:
    """Yield the faults that are on the last visit what they were on an earlier one."""
    return (f for f in faults if compiled.node_of(f, visit) == compiled.node_of(f))
