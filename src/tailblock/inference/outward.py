"""What many small changes do to every marginal, exactly and in one sweep.

In: the `Views` of a tree and `Change`s, each touching a few variables. Out: for each change how
much of the weight it leaves, and every marginal after it.

A change is worked out column by column only in its *region*, a small part of the tree that holds
what it touches. Beyond it nothing but the distribution of the separator on the way matters: the
view through that edge, a matrix that is the same for all columns, tells every marginal there.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference.propagate import LEAST

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inference.lining import Fit
    from tailblock.inference.regions import Change
    from tailblock.inference.views import Views
    from tailblock.network.arrays import FloatArray, IndexArray

# Columns are worked in blocks, so that the messages of one sweep stay below this many numbers.
_BLOCK = 1 << 25
# Of so few products those that are not needed cost less than leaving them out.
_CHEAP = 1 << 16
# The weights of so many variables are multiplied with each other before they enter a table.
_AXES = 6


@dataclass(frozen=True, slots=True)
class Outcome:
    """`share`: H, the weight left by each change. `present`: variables x H, marginals after it."""

    share: FloatArray
    present: FloatArray


def spread(views: Views, changes: Sequence[Change]) -> Outcome:
    """Return the effect of every change on the variables that `views` tells about."""
    share = np.empty(len(changes))
    present = np.empty((len(views.order), len(changes)))
    rows = np.array(views.order, dtype=np.intp)[:, None]
    for first, some in _blocks(views, changes):
        sweep = _Sweep(views, some)
        columns = first + sweep.order
        share[columns], marginals = sweep.run()
        present[rows, columns] = marginals.T
    return Outcome(share, present)


def weigh(views: Views, changes: Sequence[Change]) -> FloatArray:
    """Return the weight that each change leaves, and nothing else: far cheaper than `spread`."""
    share = np.empty(len(changes))
    for first, some in _blocks(views, changes):
        sweep = _Sweep(views, some)
        share[first + sweep.order] = sweep.weigh()
    return share


def _blocks(views: Views, changes: Sequence[Change]) -> Iterator[tuple[int, Sequence[Change]]]:
    """Yield where each block begins, and what it holds."""
    step = max(8, _BLOCK // max(1, views.forest.cells))
    for start in range(0, len(changes), step):
        yield start, changes[start : start + step]


@dataclass(slots=True)
class _Inside:
    """What a bag holds of the columns whose region it belongs to.

    `columns`: first the `ending` ones, whose region has its top here, then those that climb to the
    parent, ascending. `table`: cells x columns, on the way up P(bag | separator) as changed, on the
    way down P(bag). `message`: separator states x columns, its sum. `at`: where the parent has
    those that climb. `weight`: separator states x the parent's columns, on the way down.
    """

    ending: slice
    columns: IndexArray
    table: FloatArray = field(init=False)
    message: FloatArray = field(init=False)
    at: IndexArray = field(init=False)
    weight: FloatArray = field(init=False)

    @property
    def top(self) -> int:
        """Return the number of columns that end here."""
        stop: int = self.ending.stop
        return stop - int(self.ending.start)

    @property
    def climbing(self) -> IndexArray:
        """Return the columns that go on to the parent."""
        return self.columns[self.top :]

    @property
    def count(self) -> int:
        """Return the number of columns."""
        return len(self.columns)


class _Sweep:
    """One block of columns on its way through the tree.

    The columns stand by the tops of their regions: those that end at one bag side by side.
    `order[i]` is the change that is worked out in column i.
    """

    def __init__(self, views: Views, changes: Sequence[Change]) -> None:
        self.views = views
        self.forest = views.forest
        regions = [views.regions.of(change) for change in changes]
        tops = np.array([region.top for region in regions], dtype=np.intp)
        self.order = np.argsort(tops, kind="stable")
        climbing: dict[int, list[int]] = defaultdict(list)
        # of each bag: (axis, column, weight if absent, if present), and tables for one column
        self.pairs: dict[int, list[tuple[int, int, float, float]]] = defaultdict(list)
        self.factors: dict[int, list[tuple[int, Fit, FloatArray]]] = defaultdict(list)
        for column, number in enumerate(self.order.tolist()):
            change, region = changes[number], regions[number]
            for b in region.below_top:
                climbing[b].append(column)
            for (b, axis), pair in zip(region.at, change.weights.values(), strict=True):
                self.pairs[b].append((axis, column, *pair))
            for b, lining, table in change.tables:
                self.factors[b].append((column, lining, table))
        bags = sorted({*tops.tolist(), *climbing})
        starts = tops[self.order].searchsorted(bags).tolist()
        stops = tops[self.order].searchsorted(bags, side="right").tolist()
        self.inside = {
            b: _Inside(
                slice(start, stop),
                np.array([*range(start, stop), *climbing[b]], dtype=np.intp),
            )
            for b, start, stop in zip(bags, starts, stops, strict=True)
        }
        self.share = np.ones(len(changes))
        self.present = np.empty((len(changes), len(views.order)))

    def run(self) -> tuple[FloatArray, FloatArray]:
        """Go up to the tops of the regions, then down through them and out of them.

        Returns the shares, and the marginals (columns x variables in the order of the views).
        """
        self.weigh()
        for b in reversed(self.inside):
            self._distribute(b)
            self._look_out(b)
        return self.share, self.present

    def weigh(self) -> FloatArray:
        """Go up to the tops of the regions; return the shares."""
        place = np.empty(len(self.share), dtype=np.intp)
        for b, inside in self.inside.items():
            place[inside.columns] = np.arange(inside.count)
            self._collect(b, place)
        return self.share

    def _collect(self, b: int, place: IndexArray) -> None:
        """Make the table of a region's bag for all its columns: P(bag | separator), changed.

        `place` tells where each column stands here.
        """
        inside = self.inside[b]
        count = inside.count
        given, table = self.views.given_above[b], None
        for shape, change in self._changing(b, place):
            if table is None:  # not to be filled before it is multiplied: large ones cost by passes
                table = (given.reshape(*shape, 1) * change).reshape(-1, count)
            else:
                whole = table.reshape(*shape, count)
                whole *= change
        if table is None:
            table = np.repeat(given, count).reshape(-1, count)
        for column, lining, factor in self.factors.get(b, ()):
            part = table[:, place[column]].reshape(lining.whole)
            part *= factor.reshape(lining.part)
        inside.table = table
        separator = self.views.calibrated.separators[b]
        inside.message = table.reshape(-1, len(separator), count).sum(axis=0)
        if inside.top:
            self.share[inside.ending] = separator @ inside.message[:, : inside.top]

    def _changing(self, b: int, place: IndexArray) -> Iterator[tuple[Sequence[int], FloatArray]]:
        """Yield what multiplies a bag's table: the shape that the table takes, and the change."""
        count = self.inside[b].count
        for child in self.forest.children[b]:
            below = self.inside.get(child)
            if below is not None and len(below.climbing):
                below.at = place[below.climbing]
                message = np.ones((len(below.message), count))
                message[:, below.at] = below.message[:, below.top :]
                lining = self.forest.bags[child].lining
                yield lining.whole, message.reshape(*lining.part, count)
        if b in self.pairs:
            yield from self._weights(b, place)

    def _weights(self, b: int, place: IndexArray) -> Iterator[tuple[Sequence[int], FloatArray]]:
        """Yield the weights of single variables, a few axes of the bag at once."""
        axes, columns, absent, present = zip(*self.pairs[b], strict=True)
        changed = sorted(set(axes))
        rows, at = [changed.index(axis) for axis in axes], place[list(columns)]
        size, count = len(self.forest.bags[b].variables), self.inside[b].count
        pairs = np.ones((len(changed), 2, count))
        pairs[rows, 0, at] = absent
        pairs[rows, 1, at] = present
        for start in range(0, len(changed), _AXES):
            product, shape = pairs[start], [1] * size
            shape[changed[start]] = 2
            for row in range(start + 1, min(start + _AXES, len(changed))):
                product = (product[:, None] * pairs[row]).reshape(-1, count)
                shape[changed[row]] = 2
            yield [2] * size, product.reshape(*shape, count)

    def _distribute(self, b: int) -> None:
        """Complete the table of a region's bag by what is above it."""
        inside = self.inside[b]
        top, message = inside.top, inside.message
        ratio = np.empty_like(message)
        if top:
            separator = self.views.calibrated.separators[b][:, None]
            ratio[:, :top] = separator / np.maximum(self.share[inside.ending], LEAST)
        if inside.count > top:
            below = message[:, top:]
            ratio[:, top:] = inside.weight[:, inside.at] / np.maximum(below, LEAST)
        whole = inside.table.reshape(-1, *ratio.shape)
        whole *= ratio
        if top:
            inside.message[:, :top] *= ratio[:, :top]

    def _look_out(self, b: int) -> None:
        """Fill in what this bag sums out, and what lies beyond the edges by which columns leave.

        What the bags of the region below it tell comes later and in the place of what is seen from
        above.
        """
        inside, span, own = self.inside[b], self.views.spans[b], self.views.own[b]
        if inside.top:
            above = inside.message[:, : inside.top].T
            np.matmul(above, self.views.of_edge[b], out=self.present[inside.ending])
        if len(own):
            self._tell(inside, span.last - len(own), (own @ inside.table).T)
        for child in self.forest.children[b]:
            lining = self.forest.bags[child].lining
            whole = inside.table.reshape(*lining.whole, inside.count)
            weight = whole.sum(axis=lining.missing).reshape(-1, inside.count)
            seen = self.views.spans[child]
            view = self.views.of_edge[child][:, seen.first : seen.last]
            below = self.inside.get(child)
            going_on = 0 if below is None else len(below.climbing)
            if below is not None and going_on:
                below.weight = weight
            if going_on == 0 or weight.size * view.shape[1] < _CHEAP:
                self._tell(inside, seen.first, weight.T @ view)
            elif below is not None and going_on < inside.count:
                leaving = np.ones(inside.count, dtype=bool)
                leaving[below.at] = False
                columns = inside.columns[leaving]
                self.present[columns, seen.first : seen.last] = weight[:, leaving].T @ view

    def _tell(self, inside: _Inside, first: int, marginals: FloatArray) -> None:
        """Put down the marginals (columns x some variables, from `first` on) of a bag's columns."""
        last, top = first + marginals.shape[1], inside.top
        if top:
            self.present[inside.ending, first:last] = marginals[:top]
        if inside.count > top:
            self.present[inside.climbing, first:last] = marginals[top:]
