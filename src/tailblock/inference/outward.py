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

from tailblock.inference.order import bits
from tailblock.inference.propagate import LEAST

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.inference.lining import Fit
    from tailblock.inference.regions import Change
    from tailblock.inference.views import Views
    from tailblock.network.arrays import FloatArray, IndexArray

# Columns are worked in blocks, so that the messages of one sweep stay below this many numbers.
_BLOCK = 1 << 25
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


@dataclass(slots=True)
class _Inside:
    """What a bag holds of the columns whose region it belongs to.

    `columns`: first the `ending` ones, whose region has its top here, then those that climb to the
    parent, ascending each. `table`: cells x columns, on the way up P(bag | separator) as changed,
    on the way down P(bag). `message`: separator states x columns, its sum. `at`: where the parent
    has those that climb. `weight`: separator states x the parent's columns, on the way down.
    """

    columns: IndexArray
    ending: int
    table: FloatArray = field(init=False)
    message: FloatArray = field(init=False)
    at: IndexArray = field(init=False)
    weight: FloatArray = field(init=False)

    @property
    def climbing(self) -> int:
        """Return the number of columns that go on to the parent."""
        return len(self.columns) - self.ending


class _Sweep:
    """One block of columns on its way through the tree."""

    def __init__(self, views: Views, changes: Sequence[Change]) -> None:
        self.views = views
        self.forest = views.forest
        ending: dict[int, list[int]] = defaultdict(list)
        climbing: dict[int, list[int]] = defaultdict(list)
        self.pairs: dict[int, dict[int, list[tuple[int, float, float]]]] = defaultdict(
            lambda: defaultdict(list)
        )
        self.factors: dict[int, list[tuple[int, Fit, FloatArray]]] = defaultdict(list)
        for column, change in enumerate(changes):
            region = views.regions.of(change)
            ending[region.top].append(column)
            for b in bits(region.bags ^ 1 << region.top):
                climbing[b].append(column)
            for (b, axis), (absent, present) in zip(
                region.at, change.weights.values(), strict=True
            ):
                self.pairs[b][axis].append((column, absent, present))
            for b, lining, table in change.tables:
                self.factors[b].append((column, lining, table))
        self.inside = {
            b: _Inside(np.array(ending[b] + climbing[b], dtype=np.intp), len(ending[b]))
            for b in sorted({*ending, *climbing})
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
            place[inside.columns] = np.arange(len(inside.columns))
            self._collect(b, place)
        return self.share

    def _collect(self, b: int, place: IndexArray) -> None:
        """Make the table of a region's bag for all its columns: P(bag | separator), changed.

        `place` tells where each column stands here.
        """
        inside = self.inside[b]
        count = len(inside.columns)
        table = np.repeat(self.views.given_above[b], count).reshape(-1, count)
        for child in self.forest.children[b]:
            below = self.inside.get(child)
            if below is not None and below.climbing:
                below.at = place[below.columns[below.ending :]]
                message = np.ones((len(below.message), count))
                message[:, below.at] = below.message[:, below.ending :]
                lining = self.forest.bags[child].lining
                view = table.reshape(*lining.whole, count)
                view *= message.reshape(*lining.part, count)
        for column, lining, factor in self.factors.get(b, ()):
            part = table[:, place[column]].reshape(lining.whole)
            part *= factor.reshape(lining.part)
        if b in self.pairs:
            self._weight(b, table, place)
        inside.table = table
        separator = self.views.calibrated.separators[b]
        inside.message = table.reshape(-1, len(separator), count).sum(axis=0)
        top = inside.ending
        if top:
            self.share[inside.columns[:top]] = separator @ inside.message[:, :top]

    def _weight(self, b: int, table: FloatArray, place: IndexArray) -> None:
        """Multiply the weights of single variables into a table, a few axes at once."""
        axes = sorted(self.pairs[b])
        size, count = len(self.forest.bags[b].variables), table.shape[1]
        for start in range(0, len(axes), _AXES):
            product, shape = np.ones((1, count)), [1] * size
            for axis in axes[start : start + _AXES]:
                changed, absent, present = zip(*self.pairs[b][axis], strict=True)
                pair = np.ones((2, count))
                pair[:, place[list(changed)]] = absent, present
                product = (product[:, None] * pair).reshape(-1, count)
                shape[axis] = 2
            whole = table.reshape(*[2] * size, count)
            whole *= product.reshape(*shape, count)

    def _distribute(self, b: int) -> None:
        """Complete the table of a region's bag by what is above it."""
        inside = self.inside[b]
        top, message = inside.ending, inside.message
        ratio = np.empty_like(message)
        if top:
            separator = self.views.calibrated.separators[b][:, None]
            share = self.share[inside.columns[:top]]
            ratio[:, :top] = separator / np.maximum(share, LEAST)
        if inside.climbing:
            below = message[:, top:]
            ratio[:, top:] = inside.weight[:, inside.at] / np.maximum(below, LEAST)
        whole = inside.table.reshape(-1, *ratio.shape)
        whole *= ratio
        own = self.views.own[b]
        if len(own):
            first = self.views.spans[b].last - len(own)
            self.present[inside.columns, first : first + len(own)] = (own @ inside.table).T
        if top:
            inside.message[:, :top] *= ratio[:, :top]

    def _look_out(self, b: int) -> None:
        """Fill in what lies beyond the edges by which columns leave their regions here."""
        inside = self.inside[b]
        columns, top = inside.columns, inside.ending
        if top:
            span = self.views.spans[b]
            weight = inside.message[:, :top].T
            for rows in (slice(0, span.first), slice(span.last, None)):
                self.present[columns[:top], rows] = weight @ self.views.of_edge[b][:, rows]
        for child in self.forest.children[b]:
            lining = self.forest.bags[child].lining
            whole = inside.table.reshape(*lining.whole, len(columns))
            weight = whole.sum(axis=lining.missing).reshape(-1, len(columns))
            leaving: IndexArray | slice = slice(None)
            below = self.inside.get(child)
            if below is not None and below.climbing:
                below.weight = weight
                leaving = np.ones(len(columns), dtype=bool)
                leaving[below.at] = False
                if below.climbing == len(columns):
                    continue
            span = self.views.spans[child]
            view = self.views.of_edge[child][:, span.first : span.last]
            self.present[columns[leaving], span.first : span.last] = weight[:, leaving].T @ view
