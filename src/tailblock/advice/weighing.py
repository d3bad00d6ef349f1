"""Whom advice asks for the probability of many small suppositions: one tree, no new one for each.

In: a network with its evidence, and suppositions as what multiplies the weight of a few nodes. Out:
the share of the weight that each leaves. A state of some faults is such a product, an answer of a
finding is a sum of them, and so is what becomes of faults after work: what is added behind the
network carries no evidence, so that it can be summed out by hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference import Reasoner, TooWide
from tailblock.inference.regions import Change
from tailblock.network.barren import summed_out

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.network.arrays import FloatArray, Network

# So many products for one question: what comes after a plan needs two or three.
MOST_PRODUCTS = 1 << 12


class Weigher(Reasoner):
    """A reasoner that also weighs what is added behind its network."""

    def none_acts(self, network: Network, questions: Sequence[Mapping[int, float]]) -> FloatArray:
        """Return for each question the chance that none of its nodes acts, given all the evidence.

        Parameters
        ----------
        network
            The reasoner's own, with nodes added behind that have no evidence below them.
        questions
            Each names nodes, and how probable it is that such a node does not act if it is there.

        Raises
        ------
        ImpossibleEvidence
            The evidence has probability zero.
        TooWide
            A question needs too many products.
        """
        size = len(self.network)
        terms = [summed_out(network, size, question) for question in questions]
        most = max(map(len, terms), default=0)
        if most > MOST_PRODUCTS:
            raise TooWide(most, MOST_PRODUCTS)
        asked = dict.fromkeys(product for some in terms for product in some)
        changes = [Change({node: (1.0, kept) for node, kept in product}) for product in asked]
        share = dict(zip(asked, self.weigh(changes).tolist(), strict=True))
        return np.array(
            [sum(scale * share[product] for product, scale in some.items()) for some in terms]
        )
