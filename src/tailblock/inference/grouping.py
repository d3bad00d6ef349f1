"""How the causes of each noisy-OR are paired, so that the divorced network stays narrow.

In: the noisy-ORs by index and the scopes of the other factors. Out: for each noisy-OR a nesting
of the positions of its causes. The pairing follows an elimination order of the graph in which
every family is a star (the node, its causes and one meeting point): causes that such an order
brings together are combined where they meet.
"""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

from tailblock.inference.order import eliminate, link
from tailblock.inference.skeleton import KEPT

if TYPE_CHECKING:
    from collections.abc import Sequence

# The position of a cause, or two groupings that meet in a gate.
Grouping: TypeAlias = "int | tuple[Grouping, Grouping]"


@lru_cache(maxsize=KEPT)
def group_causes(
    nodes: int,
    gates: tuple[tuple[int | None, tuple[int, ...]], ...],
    scopes: tuple[tuple[int, ...], ...],
) -> tuple[Grouping, ...]:
    """Return one grouping a gate (0 for a gate with one cause or none).

    Parameters
    ----------
    nodes
        Number of hidden nodes.
    gates
        (output node or None, its causes) of every noisy-OR.
    scopes
        Scopes of the factors that stay as they are, if they bring variables together.
    """
    wide = [g for g, (_, causes) in enumerate(gates) if len(causes) > 2]
    meeting = {g: nodes + position for position, g in enumerate(wide)}
    neighbours = [0] * (nodes + len(wide))
    for scope in scopes:
        link(neighbours, scope)
    for g, (output, causes) in enumerate(gates):
        ends = causes if output is None else (*causes, output)
        if g in meeting:
            for end in ends:
                link(neighbours, (end, meeting[g]))
        else:
            link(neighbours, ends)
    merged = _follow(eliminate(neighbours).order, meeting, gates, scopes)
    return tuple(
        merged[g] if g in merged else (0, 1) if len(causes) == 2 else 0
        for g, (_, causes) in enumerate(gates)
    )


def _follow(
    order: Sequence[int],
    meeting: dict[int, int],
    gates: Sequence[tuple[int | None, tuple[int, ...]]],
    scopes: Sequence[tuple[int, ...]],
) -> dict[int, Grouping]:
    """Walk the order with buckets of (variables, groupings a gate) and pair what meets."""
    buckets: list[tuple[set[int], dict[int, Grouping]]] = [(set(scope), {}) for scope in scopes]
    for g, (output, causes) in enumerate(gates):
        if g not in meeting:
            buckets.append((set(causes if output is None else (*causes, output)), {}))
            continue
        buckets.extend(({cause, meeting[g]}, {g: i}) for i, cause in enumerate(causes))
        if output is not None:
            buckets.append(({output, meeting[g]}, {}))
    holding: dict[int, set[int]] = defaultdict(set)  # variable -> the buckets that hold it
    for b, (variables, _) in enumerate(buckets):
        for variable in variables:
            holding[variable].add(b)
    done: dict[int, Grouping] = {}
    whole = {point: g for g, point in meeting.items()}
    for variable in order:
        scope: set[int] = set()
        groups: dict[int, Grouping] = {}
        for b in sorted(holding[variable]):
            variables, partial = buckets[b]
            scope |= variables
            for g, group in partial.items():
                groups[g] = (groups[g], group) if g in groups else group
        scope.discard(variable)
        if variable in whole:
            done[whole[variable]] = groups.pop(whole[variable])
        for other in scope:
            holding[other] -= holding[variable]
            holding[other].add(len(buckets))
        buckets.append((scope, groups))
    return done
