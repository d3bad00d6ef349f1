"""What each separator of a calibrated tree tells about every variable.

In: a `Calibrated` tree. Out: `Views`: for each edge the matrix P(variable present | state of its
separator). Given the separator the two sides of an edge know nothing of each other, so whatever
changes on one side, the other side's marginals are a mixture of the rows of this matrix.
"""

from __future__ import annotations

import math
import string
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.lining import there
from tailblock.inference.propagate import LEAST

if TYPE_CHECKING:
    from tailblock.inference.lining import Fit
    from tailblock.inference.propagate import Calibrated
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Span:
    """The variables that a bag and all below it sum out: rows `first` to `last` - 1."""

    first: int
    last: int


class Views:
    """The matrices of one calibrated tree. An edge is named by the bag at its lower end."""

    def __init__(self, calibrated: Calibrated, variables: int) -> None:
        """Put the first `variables` variables in the order in which they are summed out.

        The bags of a subtree follow one another, and so do the variables that they sum out.
        """
        self.calibrated = calibrated
        self.forest = calibrated.forest
        self.regions = self.forest.skeleton.regions
        self.order: list[int] = []
        # of each bag: where in its table each variable is there that it sums out, 0 or 1
        self.own: list[FloatArray] = []
        self.spans: list[Span] = []
        for b, bag in enumerate(self.forest.bags):
            reported = [axis for axis in range(bag.residual) if bag.variables[axis] < variables]
            start = len(self.order)
            self.own.append(there(len(bag.variables), tuple(reported)))
            self.order.extend(bag.variables[axis] for axis in reported)
            below = [self.spans[child].first for child in self.forest.children[b]]
            self.spans.append(Span(min([start, *below]), len(self.order)))

    @cached_property
    def given_above(self) -> list[FloatArray]:
        """Return P(bag | separator to its parent) of every bag, residual x separator states."""
        calibrated = self.calibrated
        return [
            belief.reshape(-1, len(below)) / np.maximum(below, LEAST)
            for belief, below in zip(calibrated.beliefs, calibrated.separators, strict=True)
        ]

    @cached_property
    def of_edge(self) -> list[FloatArray]:
        """Return separator states x variables (in `order`) for every bag's edge to its parent."""
        bags = self.forest.bags
        view = [np.empty((len(s), len(self.order))) for s in self.calibrated.separators]
        for b in range(len(bags)):
            span = self.spans[b]
            seen = self._seen_below(b, view)
            given = self.given_above[b]
            whole = seen.reshape(*given.shape, -1)
            view[b][:, span.first : span.last] = np.einsum("rs,rsn->sn", given, whole)
        for b in reversed(range(len(bags))):
            if not self.forest.children[b]:
                continue
            span = self.spans[b]
            seen = np.empty((bags[b].cells, len(self.order)))
            seen[:, span.first : span.last] = self._seen_below(b, view)
            beyond = seen.reshape(-1, *view[b].shape)
            beyond[:, :, : span.first] = view[b][:, : span.first]
            beyond[:, :, span.last :] = view[b][:, span.last :]
            for child in self.forest.children[b]:
                inner = self.spans[child]
                lining = bags[child].lining
                mixed = _mixed(self._given_below(b, child, lining), seen, lining)
                for rows in (slice(0, inner.first), slice(inner.last, None)):
                    view[child][:, rows] = mixed[:, rows]
        return view

    def _seen_below(self, b: int, view: list[FloatArray]) -> FloatArray:
        """Return P(variable | state of the bag) for all that is summed out from the bag down."""
        bag, span = self.forest.bags[b], self.spans[b]
        seen = np.empty((bag.cells, span.last - span.first))
        for child in self.forest.children[b]:
            inner = self.spans[child]
            rows = slice(inner.first - span.first, inner.last - span.first)
            lining = self.forest.bags[child].lining
            part = view[child][:, inner.first : inner.last].reshape(*lining.part, -1)
            seen.reshape(*lining.whole, -1)[..., rows] = part
        own = self.own[b]
        if len(own):
            seen[:, -len(own) :] = own.T
        return seen

    def _given_below(self, b: int, child: int, lining: Fit) -> FloatArray:
        """Return P(bag | separator to a child), shaped as its lining."""
        weight = np.maximum(self.calibrated.separators[child], LEAST)
        belief = self.calibrated.beliefs[b]
        given: FloatArray = belief.reshape(lining.whole) / weight.reshape(lining.part)
        return given


def _mixed(given: FloatArray, seen: FloatArray, lining: Fit) -> FloatArray:
    """Return separator states x variables: the mean of what is seen, by P(bag | separator)."""
    if len(lining.missing) == len(lining.whole):  # an empty separator
        return given.reshape(1, -1) @ seen
    whole = seen.reshape(*lining.whole, seen.shape[1])
    mixed: FloatArray = np.einsum(_mixing(len(lining.whole), lining.missing), given, whole)
    return mixed.reshape(math.prod(lining.part), seen.shape[1])


@cache
def _mixing(axes: int, missing: tuple[int, ...]) -> str:
    """Return the sum over the missing axes as einsum writes it; Z are the variables."""
    names = string.ascii_lowercase[:axes]
    kept = "".join(name for i, name in enumerate(names) if i not in missing)
    return f"{names},{names}Z->{kept}Z"
