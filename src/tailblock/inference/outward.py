"""What many small changes do to every marginal, exactly and in one sweep.

In: the `Views` of a tree and `Change`s, each touching a few variables. Out: for each change how
much of the weight it leaves, and every marginal after it.

A change is worked out column by column only in its *region*, a small part of the tree that holds
what it touches. Beyond it nothing but the distribution of the separator on the way matters: the
view through that edge, a matrix that is the same for all columns, tells every marginal there.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.regions import Regions

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inference.regions import Change
    from tailblock.inference.tree import Fit
    from tailblock.inference.views import Views
    from tailblock.network.arrays import FloatArray, IndexArray

# Columns are worked in blocks, so that the messages of one sweep stay below this many numbers.
_BLOCK = 1 << 25


@dataclass(frozen=True, slots=True)
class Outcome:
    """`share`: H, the weight left by each change. `present`: variables x H, marginals after it."""

    share: FloatArray
    present: FloatArray


def spread(views: Views, changes: Sequence[Change]) -> Outcome:
    """Return the effect of every change on the variables that `views` tells about."""
    share = np.empty(len(changes))
    present = np.empty((len(views.order), len(changes)))
    for block in _blocks(views, changes):
        share[block], marginals = _Sweep(views, changes[block]).run()
        present[views.order, block] = marginals.T
    return Outcome(share, present)


def weigh(views: Views, changes: Sequence[Change]) -> FloatArray:
    """Return the weight that each change leaves, and nothing else: far cheaper than `spread`."""
    share = np.empty(len(changes))
    for block in _blocks(views, changes):
        share[block] = _Sweep(views, changes[block]).weigh()
    return share


def _blocks(views: Views, changes: Sequence[Change]) -> Iterator[slice]:
    step = max(8, _BLOCK // max(1, views.forest.cells))
    for start in range(0, len(changes), step):
        yield slice(start, start + step)


class _Sweep:
    """One block of columns on its way through the tree.

    `inside[b]` are the columns whose region holds bag b, ascending; its tables have them as their
    last axis, in that order.
    """

    def __init__(self, views: Views, changes: Sequence[Change]) -> None:
        self.views = views
        self.forest = views.forest
        regions = Regions(views)
        inside: dict[int, list[int]] = defaultdict(list)
        pairs: dict[int, dict[int, list[tuple[int, float, float]]]] = defaultdict(
            lambda: defaultdict(list)
        )
        self.factors: dict[int, list[tuple[int, Fit, FloatArray]]] = defaultdict(list)
        tops = []
        for column, change in enumerate(changes):
            region = regions.of(change)
            tops.append(region.top)
            for b in region.bags:
                inside[b].append(column)
            for (b, axis), pair in zip(region.at, change.weights.values(), strict=True):
                pairs[b][axis].append((column, *pair))
            for b, lining, table in change.tables:
                self.factors[b].append((column, lining, table))
        self.top = np.array(tops, dtype=np.intp)
        self.inside = {b: np.array(columns, dtype=np.intp) for b, columns in inside.items()}
        self.pairs = pairs
        self.tables: dict[int, FloatArray] = {}
        self.messages: dict[int, FloatArray] = {}
        self.passing: dict[int, IndexArray] = {}  # bag -> where its parent has its columns
        self.share = np.ones(len(changes))
        self.present = np.empty((len(changes), len(views.order)))

    def run(self) -> tuple[FloatArray, FloatArray]:
        """Go up to the tops of the regions, then down through them and out of them.

        Returns the shares, and the marginals (columns x variables in the order of the views).
        """
        self.weigh()
        for b in sorted(self.inside, reverse=True):
            self._distribute(b)
            self._look_out(b)
        return self.share, self.present

    def weigh(self) -> FloatArray:
        """Go up to the tops of the regions; return the shares."""
        for b in sorted(self.inside):
            self._collect(b)
        return self.share

    def _collect(self, b: int) -> None:
        """Make the table of a region's bag for all its columns: P(bag | separator), changed."""
        columns = self.inside[b]
        bag = self.forest.bags[b]
        table = np.repeat(self.views.given_above(b).reshape(-1, 1), len(columns), axis=1)
        for column, lining, factor in self.factors.get(b, ()):
            view = table[:, columns.searchsorted(column)].reshape(lining.whole)
            view *= factor.reshape(lining.part)
        for axis, entries in self.pairs.get(b, {}).items():
            changed, absent, present = zip(*entries, strict=True)
            factors = np.ones((2, len(columns)))
            factors[:, columns.searchsorted(changed)] = absent, present
            halves = table.reshape(1 << axis, 2, -1, len(columns))
            halves *= factors[:, None, :]
        for child in self.forest.children[b]:
            if child not in self.inside:
                continue
            among = self.inside[child]
            passing = np.flatnonzero(self.top[among] != child)
            if len(passing):
                lining = self.forest.bags[child].lining
                at = self.passing[child] = columns.searchsorted(among[passing])
                message = self.messages[child][:, passing]
                part = table[:, at].reshape(*lining.whole, -1)
                part *= message.reshape(*lining.part, -1)
                table[:, at] = part.reshape(len(table), -1)
        ending = np.flatnonzero(self.top[columns] == b)
        if len(ending):
            whole = table[:, ending].reshape(1 << bag.residual, -1, len(ending))
            whole *= self.views.calibrated.separators[b][:, None]
            total = whole.sum(axis=(0, 1))
            self.share[columns[ending]] = total
            whole /= np.where(total > 0.0, total, 1.0)
            table[:, ending] = whole.reshape(len(table), -1)
        self.tables[b] = table
        self.messages[b] = table.reshape(1 << bag.residual, -1, len(columns)).sum(axis=0)

    def _distribute(self, b: int) -> None:
        """Complete the table of a region's bag by what its parent knows."""
        columns = self.inside[b]
        bag = self.forest.bags[b]
        table = self.tables[b]
        below = np.flatnonzero(self.top[columns] != b)
        if len(below) and bag.parent is not None:
            at = self.inside[bag.parent].searchsorted(columns[below])
            above = self._over_separator(bag.parent, bag.lining, at)
            message = self.messages[b][:, below]
            ratio = np.divide(above, message, out=np.zeros_like(above), where=message > 0.0)
            part = table[:, below].reshape(1 << bag.residual, -1, len(below)) * ratio
            table[:, below] = part.reshape(len(table), -1)
        for row, axis in self.views.own[b]:
            halves = table.reshape(1 << axis, 2, -1, len(columns))
            self.present[columns, row] = halves[:, 1].sum(axis=(0, 1))

    def _look_out(self, b: int) -> None:
        """Fill in what lies beyond the edges by which columns leave their regions here."""
        columns = self.inside[b]
        ending = np.flatnonzero(self.top[columns] == b)
        if len(ending):
            span = self.views.spans[b]
            weight = self.messages[b][:, ending].T
            for rows in (slice(0, span.first), slice(span.last, None)):
                self.present[columns[ending], rows] = weight @ self.views.of_edge[b][:, rows]
        for child in self.forest.children[b]:
            leaving = np.ones(len(columns), dtype=bool)
            if child in self.passing:
                leaving[self.passing[child]] = False
            going = np.flatnonzero(leaving)
            if len(going):
                span = self.views.spans[child]
                view = self.views.of_edge[child][:, span.first : span.last]
                lining = self.forest.bags[child].lining
                self.present[columns[going], span.first : span.last] = (
                    self._over_separator(b, lining, going).T @ view if len(view) > 1 else view
                )

    def _over_separator(self, b: int, lining: Fit, positions: IndexArray) -> FloatArray:
        """Return the distribution over a child's separator, separator states x some columns."""
        table = self.tables[b]
        if len(positions) < table.shape[1]:
            table = table[:, positions]
        summed: FloatArray = table.reshape(*lining.whole, -1).sum(axis=lining.missing)
        return summed.reshape(-1, len(positions))
