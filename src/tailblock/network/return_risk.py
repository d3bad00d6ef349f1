"""What could bring repaired faults back, as an addition to a compiled network.

In: a `Compiled` network, the checklist, the traits, the remedies of a plan. Out: `ReturnNetwork`s:
the same network with what the plan leaves of each fault, and for each repaired fault a finding
that says "comes back"; and the same for each cause that is taken to be gone. Nothing that was
there before changes, and nothing of what is added has evidence below it: it is barren, and every
other probability stays what it was.

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
from tailblock.network.arrays import Finding, Network, Side
from tailblock.network.compile import links_of

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class ReturnNetwork:
    """A network with what comes after a plan.

    `returns[fault, gone]` is the finding whose outcome 1 is "the repaired fault comes back", with
    all its causes (None) or with one that were gone for good.
    """

    network: Network
    returns: Mapping[tuple[str, str | None], int]


def extend(
    compiled: Compiled,
    checklist: Checklist,
    known: Mapping[str, str],
    remedies: Sequence[str],
    about: Collection[str] | None = None,
    *,
    apart: bool = True,
) -> tuple[ReturnNetwork, ...]:
    """Return the network with what comes after the remedies, done on the last visit's state.

    The first network answers for every repaired fault, and for every cause whose going changes
    nothing but that fault's own return. A cause that brings a fault back by other ways as well has
    a network to itself: all in one would be too wide. `about` names the repaired faults that are
    asked about, all if left out; `apart` whether each cause is also taken to be gone.

    Raises
    ------
    KeyError
        The checklist has no remedy of that id.
    """
    first = _After(compiled, checklist, known, remedies)
    near: dict[tuple[str, str | None], int] = {}
    far: dict[str, list[str]] = {}
    for fault in (one for one in first.repaired if about is None or one in about):
        near[fault, None] = first.comes_back(fault, None)
        for cause in first.causes(fault) if apart else ():
            if first.by_other_ways(fault, cause):
                far.setdefault(cause, []).append(fault)
            else:
                near[fault, cause] = first.comes_back(fault, cause)
    networks = [ReturnNetwork(first.network(), near)]
    for cause, faults in far.items():
        draft = _After(compiled, checklist, known, remedies)
        found: dict[tuple[str, str | None], int] = {
            (fault, cause): draft.comes_back(fault, cause) for fault in faults
        }
        networks.append(ReturnNetwork(draft.network(), found))
    return tuple(networks)


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
        self._findings: list[Finding] = []
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

    def by_other_ways(self, fault: str, cause: str) -> bool:
        """Return whether a cause brings a fault back also through another repaired cause of it."""
        return any(
            other != cause and other in self.repaired and self._hangs_on(other, cause)
            for other in self.causes(fault)
        )

    def comes_back(self, fault: str, without: str | None) -> int:
        """Add the finding "comes back"; `without` is a cause that is taken to be gone."""
        links = self._links(fault, without)
        parents = tuple(sorted(links))
        rows = np.array([[1.0 - links[node], 1.0] for node in parents]).reshape(len(parents), 2)
        nothing = Side((), np.empty((0, 1)), np.ones(1))
        self._findings.append(Finding(nothing, Side(parents, rows, np.ones(2))))
        return len(self._base.findings) + len(self._findings) - 1

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
            findings=(*self._base.findings, *self._findings),
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
