"""The network as arrays: what inference gets. Indexes only, no names, no wording.

Hidden nodes are binary. P(node = 0 | causes) = (1 - alone) * prod over present causes (1 -
strength): a leaky noisy-OR in its net form (F. J. Diez, "Parameter adjustment in Bayes networks:
the generalized noisy OR-gate", UAI 1993). Findings have ordered outcomes and are noisy-MAX on
each side.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from collections.abc import Mapping

FloatArray = npt.NDArray[np.float64]
IndexArray = npt.NDArray[np.intp]
# One number, or one for each network of a batch.
Number: TypeAlias = float | FloatArray


def frozen(array: FloatArray) -> FloatArray:
    """Return the array itself, which nobody can write to any more."""
    array.flags.writeable = False
    return array


@dataclass(frozen=True, slots=True)
class Side:
    """One direction of a finding: a leaky noisy-MAX over levels 0..m.

    `parents`: p node indexes. `cumulative`: p x (m + 1), P(level <= l | that node alone), last
    column 1. `leak`: m + 1, P(level <= l | none), last entry 1.
    """

    parents: tuple[int, ...]
    cumulative: FloatArray
    leak: FloatArray

    @property
    def top(self) -> int:
        """Return m, the highest level."""
        return len(self.leak) - 1


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check can say: from the worst low level over normal to the worst high one.

    With hidden levels L and H of its sides, the outcome is H - L, cut off at the outermost levels;
    outcome index = H - L + low.top. A one-sided finding has a low side with no level (top 0).
    """

    low: Side
    high: Side

    @property
    def outcomes(self) -> int:
        """Return the number of outcomes."""
        return self.low.top + self.high.top + 1

    @property
    def parents(self) -> tuple[int, ...]:
        """Return the nodes that either side links to, ascending."""
        return tuple(sorted({*self.low.parents, *self.high.parents}))


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Network:
    """Hidden nodes in an order in which causes come before effects, and findings on them.

    `alone`: n starting chances. `parents[i]` and `strengths[i]`: the causes of node i (all < i) and
    the chance that each alone brings it about.

    A batch of networks of one shape is a `Network` too: every array then has one more axis, the
    last, over its members, and every strength is such an array.
    """

    alone: FloatArray
    parents: tuple[tuple[int, ...], ...]
    strengths: tuple[tuple[Number, ...], ...]
    findings: tuple[Finding, ...]

    @property
    def batch(self) -> tuple[int, ...]:
        """Return () for a single network, (members,) for a batch."""
        return self.alone.shape[1:]

    def __len__(self) -> int:
        return len(self.parents)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known: likelihoods over outcomes of findings, and nodes seen to be there or not.

    `soft[k]` has one number an outcome of finding k, the largest 1. `hard[i]` says whether node i
    is there.
    """

    soft: Mapping[int, tuple[float, ...]] = field(default_factory=lambda: MappingProxyType({}))
    hard: Mapping[int, bool] = field(default_factory=lambda: MappingProxyType({}))
