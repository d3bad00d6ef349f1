"""The state that a plan of work would leave behind, as an addition to a compiled network.

In: a `Compiled` network, the checklist, the remedies of a plan. Out: the same network with one node
more for every fault that the work touches, and the node of each fault after it. What is added has
no evidence below it: every other probability stays what it was.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.network.timeline import after_work

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.arrays import Network
    from tailblock.network.compile import Compiled


def after_plan(
    compiled: Compiled, checklist: Checklist, remedies: Sequence[str]
) -> tuple[Network, Mapping[str, int]]:
    """Return the network with the state after the remedies, done on the last visit's.

    Raises
    ------
    KeyError
        The checklist has no remedy of that id.
    """
    work = [checklist.remedies[remedy] for remedy in dict.fromkeys(remedies)]
    base = compiled.network
    now = {name: node for name, node in compiled.current[-1].items() if name in checklist.faults}
    alone: list[float] = []
    parents: list[tuple[int, ...]] = []
    strengths: list[tuple[float, ...]] = []
    for name, before in now.items():
        passage = after_work(checklist.faults[name], work)
        if passage is not None:
            now[name] = len(base) + len(alone)
            alone.append(passage.leak)
            parents.append((before,) if passage.strength > 0.0 else ())
            strengths.append((passage.strength,) if passage.strength > 0.0 else ())
    network = replace(
        base,
        alone=np.concatenate([base.alone, alone]),
        parents=(*base.parents, *parents),
        strengths=(*base.strengths, *strengths),
    )
    return network, now
