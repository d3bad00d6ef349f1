"""How a bag of a calibrated tree carries a separator's distribution from one edge to another.

In: a `Calibrated` tree. Out: `Transfers`, which makes each matrix P(other separator | this one)
when it is first wanted and keeps it. Variables that both separators share are carried as they
are, so the matrix is a stack of small ones, one a state of the shared variables.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.tree import marginal

if TYPE_CHECKING:
    import numpy.typing as npt

    from tailblock.inference.propagate import Calibrated
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class _Transfer:
    """`matrix`: shared x out x in; `order_in`, `order_out` put each side's axes into place."""

    matrix: FloatArray
    order_in: tuple[int, ...]
    order_out: tuple[int, ...]


class Transfers:
    """The matrices of one calibrated tree. An edge is named by the bag at its lower end."""

    def __init__(self, calibrated: Calibrated, variables: int) -> None:
        self.calibrated = calibrated
        self.forest = calibrated.forest
        self.variables = variables
        self.masks = [sum(1 << v for v in bag.variables) for bag in self.forest.bags]
        self._transfers: dict[tuple[int, int, int], _Transfer] = {}
        self._readers: dict[tuple[int, int], tuple[list[int], FloatArray]] = {}
        self._given: dict[tuple[int, int], FloatArray] = {}
        self._outside: dict[int, npt.NDArray[np.intp]] = {}

    def outside(self, b: int) -> npt.NDArray[np.intp]:
        """Return the reported variables that are not summed out in bag `b` or below it."""
        if b not in self._outside:
            below = {b}
            for bag in range(b, -1, -1):
                if self.forest.bags[bag].parent in below:
                    below.add(bag)
            homes = (self.forest.home[variable][0] for variable in range(self.variables))
            self._outside[b] = np.flatnonzero([home not in below for home in homes])
        return self._outside[b]

    def given_above(self, b: int) -> FloatArray:
        """Return P(bag | separator to its parent), flat."""
        return self._given_edge(b, b)

    def carry(self, b: int, source: int, target: int, weight: FloatArray) -> FloatArray:
        """Return the distribution of one separator of bag `b` from that of another, per column."""
        key = (b, source, target)
        if key not in self._transfers:
            self._transfers[key] = self._make(b, source, target)
        transfer = self._transfers[key]
        columns = weight.shape[1]
        shared, _, into = transfer.matrix.shape
        axes = len(transfer.order_in)
        turned = weight.reshape(*[2] * axes, columns).transpose(*transfer.order_in, axes)
        carried = transfer.matrix @ turned.reshape(shared, into, columns)
        ends = len(transfer.order_out)
        placed = carried.reshape(*[2] * ends, columns).transpose(*transfer.order_out, ends)
        return placed.reshape(-1, columns)

    def read(
        self,
        b: int,
        edge: int,
        weight: FloatArray,
        columns: npt.NDArray[np.intp],
        present: FloatArray,
    ) -> None:
        """Write the marginals of the variables that bag `b` sums out, in place."""
        key = (b, edge)
        if key not in self._readers:
            self._readers[key] = self._reader(b, edge)
        variables, matrix = self._readers[key]
        if variables:
            present[np.ix_(np.array(variables), columns)] = matrix @ weight

    def _axes(self, b: int, edge: int) -> tuple[int, ...]:
        """Return the axes of bag `b` that make up the separator of one of its edges."""
        own = self.forest.bags[edge]
        inside = self.forest.bags[b].variables
        return tuple(inside.index(variable) for variable in own.variables[own.residual :])

    def _given_edge(self, b: int, edge: int) -> FloatArray:
        """Return P(bag | separator of the edge), flat; zero where the separator has no weight."""
        key = (b, edge)
        if key not in self._given:
            below = self.calibrated.separators[edge]
            inverse = np.divide(1.0, below, out=np.zeros_like(below), where=below > 0.0)
            belief = self.calibrated.beliefs[b]
            if edge == b:
                table = belief.reshape(-1, len(below)) * inverse
            else:
                lining = self.forest.bags[edge].lining
                table = belief.reshape(lining.whole) * inverse.reshape(lining.part)
            self._given[key] = table.reshape(-1)
        return self._given[key]

    def _make(self, b: int, source: int, target: int) -> _Transfer:
        inward, outward = self._axes(b, source), self._axes(b, target)
        shared = [axis for axis in inward if axis in outward]
        only_in = [axis for axis in inward if axis not in shared]
        only_out = [axis for axis in outward if axis not in shared]
        rest = [
            axis
            for axis in range(len(self.forest.bags[b].variables))
            if axis not in inward and axis not in outward
        ]
        table = self._given_edge(b, source).reshape([2] * len(self.forest.bags[b].variables))
        turned = table.transpose(*shared, *only_out, *only_in, *rest)
        shape = (1 << len(shared), 1 << len(only_out), 1 << len(only_in), 1 << len(rest))
        matrix = np.ascontiguousarray(turned.reshape(shape).sum(axis=3))
        built = [*shared, *only_out]
        return _Transfer(
            matrix,
            tuple(inward.index(axis) for axis in (*shared, *only_in)),
            tuple(built.index(axis) for axis in outward),
        )

    def _reader(self, b: int, edge: int) -> tuple[list[int], FloatArray]:
        bag = self.forest.bags[b]
        given = self._given_edge(b, edge)
        variables = []
        rows = []
        for axis in range(bag.residual):
            if bag.variables[axis] < self.variables:
                half = given.copy()
                half.reshape(1 << axis, 2, -1)[:, 0] = 0.0
                variables.append(bag.variables[axis])
                if edge == b:
                    rows.append(half.reshape(1 << bag.residual, -1).sum(axis=0))
                else:
                    rows.append(marginal(half, self.forest.bags[edge].lining))
        return variables, np.array(rows)
