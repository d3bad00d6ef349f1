"""A question about nodes that a tree does not hold, as questions about those it holds.

In: the weights of a `Key`, the network, the nodes of a tree. Out: the same as a sum of products
over those nodes, each with its coefficient.

A node with nothing else below it that counts can be summed out by hand. If it is absent with
weight a and present with weight p it leaves p + (a - p) P(absent | causes), and for a noisy-OR the
last is a product over its causes: two products for one.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

    from tailblock.inference.hypotheses import Key
    from tailblock.network.arrays import Network


def expanded(key: Key, network: Network, held: Container[int]) -> Mapping[Key, float]:
    """Return products over the nodes held -> coefficients.

    Whatever is held must be so with all its causes, and no evidence may lie below what is not.
    """
    done: dict[Key, float] = defaultdict(float)
    waiting = [(1.0, {node: (absent, present) for node, absent, present in key})]
    while waiting:
        coefficient, weights = waiting.pop()
        # effects come after their causes: the last one is below none of the others
        node = max((node for node in weights if node not in held), default=None)
        if node is None:
            done[tuple((n, *weights[n]) for n in sorted(weights))] += coefficient
            continue
        absent, present = weights.pop(node)
        if present:
            waiting.append((coefficient * present, dict(weights)))
        if absent != present:
            leak = 1.0 - float(network.alone[node])
            for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
                a, p = weights.get(cause, (1.0, 1.0))
                weights[cause] = (a, p * (1.0 - float(strength)))
            waiting.append((coefficient * (absent - present) * leak, weights))
    return done
