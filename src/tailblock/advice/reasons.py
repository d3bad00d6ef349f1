"""Why a fault stands where it stands: the readings for and against it, and its probable causes.

In: the compiled names, the probabilities with all readings and with each one left out, what would
settle each fault. Out: `Reasons` for every fault that applies.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import LEAST, applying, decibans
from tailblock.advice.results import Reasons, Weighed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice.results import Settling
    from tailblock.inference import LeaveOneOut
    from tailblock.inference.beliefs import Beliefs
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.compile import Compiled

PRESENT = 0.5  # from here on a cause is told as one that is probably there


def reasons(
    checklist: Checklist,
    compiled: Compiled,
    beliefs: Beliefs,
    without: LeaveOneOut,
    settled_by: Mapping[str, Settling],
) -> Mapping[str, Reasons]:
    """Return, for every fault that applies, what speaks for and against it.

    A reading's weight is 10 log10 of the fault's odds with all readings over its odds with all but
    that one: what it adds given the others, so weights do not add up to the whole.

    Parameters
    ----------
    without
        The probabilities of all nodes with each finding left out in turn.
    settled_by
        Fault -> the unread check that would settle it best.
    """
    return {
        fault: _reasons_of(fault, compiled, beliefs, without, settled_by)
        for fault in applying(checklist, compiled)
    }


def _reasons_of(
    fault: str,
    compiled: Compiled,
    beliefs: Beliefs,
    without: LeaveOneOut,
    settled_by: Mapping[str, Settling],
) -> Reasons:
    node = compiled.node_of(fault)
    with_all = float(beliefs.probability[node])
    weighed = []
    for row, finding in enumerate(without.findings):
        name = compiled.findings[finding]
        weight = decibans(with_all, float(without.probability[row, node]))
        if abs(weight) >= LEAST:
            weighed.append(Weighed(name.check, name.visit, weight))
    return Reasons(
        fault=fault,
        in_favour=tuple(sorted((w for w in weighed if w.decibans > 0), key=lambda w: -w.decibans)),
        against=tuple(sorted((w for w in weighed if w.decibans < 0), key=lambda w: w.decibans)),
        trail=_trail(node, compiled, beliefs),
        settles=settled_by.get(fault),
    )


def _trail(node: int, compiled: Compiled, beliefs: Beliefs) -> tuple[str, ...]:
    """Follow the most probable cause, and the cause of that, as long as they are probably there."""
    trail: list[str] = []
    causes = compiled.network.parents[node]
    while causes:
        cause = max(causes, key=lambda index: beliefs.probability[index])
        if beliefs.probability[cause] < PRESENT:
            break
        name = compiled.nodes[cause].id
        # After a repair a fault's only parent is the fault as it was: not a cause of its own.
        if name != compiled.nodes[node].id and name not in trail:
            trail.append(name)
        causes = compiled.network.parents[cause]
    return tuple(trail)
