"""How far the ranking leans on the checklist's round words.

In: what a batch of networks believes whose chances were jittered within their words. Out:
`Steadiness`: an interval for each fault, how often each keeps its place, and whether the leader
stays the leader.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.ranking import LEAST_LEAD, applying, behind_causes, leads, worth_of
from tailblock.advice.results import Steadiness, Swing

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy.typing as npt

    from tailblock.advice.results import CauseBelief
    from tailblock.inference.batch import ManyBeliefs
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.arrays import FloatArray
    from tailblock.network.compile import Compiled

MEMBERS = 200
# The middle nine tenths of the networks; and how many of them must agree on the leader. Both are
# conventions of ours.
_TAILS = (0.05, 0.95)
_AGREED = 0.80


def steadiness(
    checklist: Checklist, compiled: Compiled, causes: Sequence[CauseBelief], many: ManyBeliefs
) -> Steadiness:
    """Return how the beliefs of a batch spread around those of the checklist's own numbers.

    Parameters
    ----------
    causes
        The beliefs of the checklist's own numbers, in any order.
    many
        Those of the batch, over the nodes of `compiled`.
    """
    ids = applying(checklist, compiled)
    nodes = [compiled.node_of(fault) for fault in ids]
    now, start = many.probability[nodes], many.prior[nodes]
    ahead = leads(worth_of(checklist, ids)[:, None], now, start)
    ahead = behind_causes(checklist, compiled, ids, ahead, now)
    own = {cause.id: cause.lead for cause in causes}
    place = _places(np.array([own[fault] for fault in ids])[:, None])
    kept = (_places(ahead) == place).mean(axis=1)
    low, high = np.quantile(now, _TAILS, axis=1)
    swings = {
        fault: Swing(float(low[i]), float(high[i]), float(kept[i])) for i, fault in enumerate(ids)
    }
    first = max(own, key=own.__getitem__) if own else None
    if first is None or own[first] < LEAST_LEAD:
        agreed = float((ahead.max(axis=0, initial=0.0) < LEAST_LEAD).mean())
        first = None
    else:
        agreed = swings[first].keeps_place
    return Steadiness(swings, first, agreed, agreed >= _AGREED)


def _places(leads: FloatArray) -> npt.NDArray[np.intp]:
    """Return the place of each fault by lead in each member: 0 is first, equals keep their order.

    Parameters
    ----------
    leads
        Faults x members.
    """
    order = np.argsort(-leads, axis=0, kind="stable")
    places = np.empty_like(order)
    np.put_along_axis(places, order, np.arange(len(leads))[:, None], axis=0)
    return places
