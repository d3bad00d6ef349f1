"""Nodes without evidence below them, summed out by hand.

In: a network, how many of its first nodes are kept, a product over nodes. Out: the same as a sum of
products over the nodes that are kept.

With a the factor of an added node x, of starting chance `alone` and link strengths s,

    a ^ x = a + (1 - a) [x = 0],    P(x = 0 | causes) = (1 - alone) * prod (1 - s_i) ^ x_i

so that summing x out makes two products of one, all of whose numbers are non-negative. The added
nodes go from the last to the first: an effect before its causes.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.network.arrays import Network

# Node -> what its being there multiplies the weight by, ascending.
Product: TypeAlias = tuple[tuple[int, float], ...]


def summed_out(
    network: Network, kept: int, factors: Mapping[int, float]
) -> Mapping[Product, float]:
    """Return E[prod of factors[i] over the nodes i that are there | the first `kept` nodes].

    Parameters
    ----------
    network
        A single one, no batch; the nodes behind the first `kept` ones carry no evidence.
    factors
        In [0, 1]; a node that is not named has 1.

    Returns
    -------
    The products over the first `kept` nodes whose sum this is, and what multiplies each.
    """
    sums = {_product(factors): 1.0}
    for node in range(len(network) - 1, kept - 1, -1):
        before, sums = sums, defaultdict(float)
        causes = tuple(zip(network.parents[node], network.strengths[node], strict=True))
        for product, scale in before.items():
            rest = dict(product)
            factor = rest.pop(node, 1.0)
            if factor > 0.0:
                sums[_product(rest)] += factor * scale
            if factor < 1.0:
                for cause, strength in causes:
                    rest[cause] = rest.get(cause, 1.0) * (1.0 - float(strength))
                absent = 1.0 - float(network.alone[node])
                sums[_product(rest)] += (1.0 - factor) * absent * scale
    return sums


def _product(factors: Mapping[int, float]) -> Product:
    return tuple(sorted((node, factor) for node, factor in factors.items() if factor != 1.0))
