"""What could bring repaired faults back, as an addition to a compiled network.

In: a `Compiled` network, the checklist, the traits, the remedies of a plan. Out: a `ReturnNetwork`:
the same network with what the plan leaves of each fault, and for each repaired fault what can bring
it back; the same for each cause that is taken to be gone. Nothing that was there before changes,
and nothing of what is added has evidence below it: it is barren, and every other probability stays
what it was.

With G_j = "cause j is still there after the plan, or comes back itself",

    P(i does not come back) = prod over causes j that are not events of (1 - strength_ji) ^ G_j

The chance of having it with none of its causes (`alone`) is left out: it says "comes back while
these stay", and claims no date. A fault that the plan does not repair cannot come back, only stay.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.network.after_plan import after_plan
from tailblock.network.compile import links_of

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault
    from tailblock.network.arrays import Network
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class ReturnNetwork:
    """A network with what comes after a plan.

    `spared[fault, gone]` names the nodes that can bring a repaired fault back, and how probable it
    is that each does not, if it is there: with all its causes (None), or with one that were gone
    for good.
    """

    network: Network
    spared: Mapping[tuple[str, str | None], Mapping[int, float]]


def extend(
    compiled: Compiled,
    checklist: Checklist,
    known: Mapping[str, str],
    remedies: Sequence[str],
    about: Collection[str] | None = None,
    *,
    apart: bool = True,
) -> ReturnNetwork:
    """Return the network with what comes after the remedies, done on the last visit's state.

    `about` names the repaired faults that are asked about, all if left out; `apart` whether each
    cause is also taken to be gone.

    Raises
    ------
    KeyError
        The checklist has no remedy of that id.
    """
    after = _After(compiled, checklist, known, remedies)
    spared = {
        (fault, gone): after.spared(fault, gone)
        for fault in after.repaired
        if about is None or fault in about
        for gone in (None, *(after.causes(fault) if apart else ()))
    }
    return ReturnNetwork(after.network(), spared)


class _After:
    """The state after a plan, grown node by node behind those of the compiled network."""

    def __init__(
        self,
        compiled: Compiled,
        checklist: Checklist,
        known: Mapping[str, str],
        remedies: Sequence[str],
    ) -> None:
        self._checklist, self._known = checklist, known
        self._base, after = after_plan(compiled, checklist, remedies)
        self._parents: list[dict[int, float]] = []
        self._alone: list[float] = []
        self._again: dict[tuple[str, str | None], int] = {}
        work = [checklist.remedies[remedy] for remedy in dict.fromkeys(remedies)]
        fixed = {fix.fault for remedy in work for fix in remedy.fixes}
        self._now = dict(after)
        self.repaired = tuple(
            name for name in self._now if name in fixed and self._fault(name).kind != "event"
        )

    def causes(self, fault: str) -> tuple[str, ...]:
        """Return the causes that can bring a fault back: those here, events of the past apart."""
        listed = dict.fromkeys(cause.fault for cause in self._fault(fault).caused_by)
        return tuple(
            cause for cause in listed if cause in self._now and self._fault(cause).kind != "event"
        )

    def spared(self, fault: str, without: str | None) -> Mapping[int, float]:
        """Return what can bring a fault back, and how probable it is that each does not.

        `without` is a cause that is taken to be gone.
        """
        return {node: 1.0 - link for node, link in self._links(fault, without).items()}

    def network(self) -> Network:
        """Return the whole."""
        return replace(
            self._base,
            alone=np.concatenate([self._base.alone, self._alone]),
            parents=(*self._base.parents, *(tuple(sorted(one)) for one in self._parents)),
            strengths=(
                *self._base.strengths,
                *(tuple(one[node] for node in sorted(one)) for one in self._parents),
            ),
        )

    def _fault(self, name: str) -> Fault:
        return self._checklist.faults[name]

    def _add(self, alone: float, causes: Mapping[int, float]) -> int:
        self._alone.append(alone)
        self._parents.append({node: chance for node, chance in causes.items() if chance > 0.0})
        return len(self._base) + len(self._alone) - 1

    def _links(self, fault: str, without: str | None) -> dict[int, float]:
        acting = {
            cause: self._there_again(cause, without)
            for cause in self.causes(fault)
            if cause != without
        }
        return links_of(self._fault(fault), acting, self._checklist, self._known)

    def _there_again(self, fault: str, without: str | None) -> int:
        """Return the node G: the fault is still there, or has come back."""
        if fault not in self.repaired:
            return self._now[fault]
        if without is not None and not self._hangs_on(fault, without):
            without = None
        if (fault, without) not in self._again:
            back = self._add(0.0, self._links(fault, without))
            both = {self._now[fault]: 1.0, back: 1.0}
            self._again[fault, without] = self._add(0.0, both)
        return self._again[fault, without]

    def _hangs_on(self, fault: str, cause: str) -> bool:
        """Return whether a repaired fault can come back through a cause, however far away."""
        return any(
            other == cause or (other in self.repaired and self._hangs_on(other, cause))
            for other in self.causes(fault)
        )
