"""Which faults a check shows, directly or through a symptom, and what the answers so far touched.

In: the compiled network and its names, the levels that answers reached. Out: fault ids. Only the
shape of the network is asked, no probability.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.compile import Compiled


def shown(checklist: Checklist, compiled: Compiled) -> Mapping[str, frozenset[str]]:
    """Return, for every check that applies, the faults that it shows on this instrument."""
    last = len(compiled.current) - 1
    return {
        name.check: _faults(checklist, compiled, compiled.network.findings[index].parents)
        for index, name in enumerate(compiled.findings)
        if name.visit == last
    }


def looked_at(shown_by: Mapping[str, Collection[str]], answered: Iterable[str]) -> frozenset[str]:
    """Return the faults that at least one answered check shows.

    Parameters
    ----------
    shown_by
        Check -> the faults that it shows (see `shown`).
    answered
        Ids of the checks whose answer counts.
    """
    return frozenset(fault for check in answered for fault in shown_by.get(check, ()))


def at_the_top(
    checklist: Checklist, compiled: Compiled, levels: Mapping[str, str]
) -> frozenset[str]:
    """Return the faults of which an answer reached the outermost level on the side that shows them.

    Parameters
    ----------
    levels
        Check -> the level that its answer reached.
    """
    last = len(compiled.current) - 1
    touched: set[str] = set()
    for check, level in levels.items():
        index = compiled.finding_of(check, last)
        if index is None:
            continue
        finding = compiled.network.findings[index]
        ends = levels_of(checklist.checks[check])
        if ends.low and level == ends.low[-1]:
            touched |= _faults(checklist, compiled, finding.low.parents)
        if ends.high and level == ends.high[-1]:
            touched |= _faults(checklist, compiled, finding.high.parents)
    return frozenset(touched)


def _faults(checklist: Checklist, compiled: Compiled, nodes: Iterable[int]) -> frozenset[str]:
    """Return the faults among nodes, symptoms taken for the faults behind them."""
    names: set[str] = set()
    for node in nodes:
        behind = (
            (node,)
            if compiled.nodes[node].id in checklist.faults
            else compiled.network.parents[node]
        )
        names.update(compiled.nodes[index].id for index in behind)
    return frozenset(names)
