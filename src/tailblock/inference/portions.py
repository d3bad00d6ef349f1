"""Which hidden nodes share a tree, so that no tree is wide.

In: the causes of each node, the nodes that evidence bears on, the nodes that are asked for. Out:
sets of nodes, each with all its causes, that together hold every node asked for.

Evidence ties its nodes and all that lies above them together: the *core*, which every set holds. A
node that no evidence lies below changes nothing for the others: summed out first, it leaves a
factor of ones. But as long as its own probability is wanted, its causes must meet in one table, and
some bring causes together that are far apart in the tree: one such node doubles every table on the
way, ten of them multiply. So the first set takes in whatever costs little; what costs much is left
to further sets, and nodes of different sets meet only through the core.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tailblock.inference.order import bits, eliminate, link

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    Parents = Sequence[tuple[int, ...]]

# The first set takes in a node that adds no more than this share to its tables, or this many cells.
_SHARE = 0.03
_FEW = 512
# A further set is the first one and costly nodes, as long as they add no more than this share.
_MORE = 0.5
_HUBS = 4  # places that are tried for each node


@dataclass(frozen=True, slots=True)
class Portion:
    """Nodes that share a tree, ascending; `tells` are those whose probability is read there."""

    nodes: tuple[int, ...]
    tells: tuple[int, ...]


def divide(
    parents: Parents,
    bearing: Iterable[int],
    scopes: Iterable[tuple[int, ...]],
    asked: Iterable[int],
) -> tuple[Portion, ...]:
    """Return sets of nodes that together hold all that are asked for.

    Parameters
    ----------
    parents
        The causes of each node, all of them before it.
    bearing
        The nodes that evidence bears on directly; they and all above them are the core.
    scopes
        Nodes that one piece of evidence ties together.
    asked
        The nodes whose probabilities are wanted.
    """
    core = _closed(parents, bearing)
    wanted = sorted(set(asked))
    sketch = _Sketch.of(parents, sorted(core), scopes)
    inside = set(core)
    for node in sorted(_closed(parents, wanted) - core):
        if inside.issuperset(parents[node]):
            grown = sketch.with_node(node, parents[node])
            if grown.cells - sketch.cells <= max(_FEW, _SHARE * sketch.cells):
                sketch = grown
                inside.add(node)
    portions = [Portion(tuple(sorted(inside)), tuple(n for n in wanted if n in inside))]
    left = [node for node in wanted if node not in inside]
    while left:
        portion = _around(parents, inside, sketch, left)
        portions.append(portion)
        left = [node for node in left if node not in set(portion.tells)]
    return tuple(portions)


def _around(parents: Parents, held: set[int], sketch: _Sketch, left: Sequence[int]) -> Portion:
    """Return the first of the nodes that are left with its causes, and whatever goes with it.

    It holds the first set too, so that few questions have to be put in other terms.
    """
    inside = set(held)
    most = (1.0 + _MORE) * sketch.cells
    tells: list[int] = []
    for node in left:
        grown = sketch
        added = sorted(_closed(parents, [node]) - inside)
        for other in added:
            grown = grown.with_node(other, parents[other])
        if not tells or grown.cells <= most:
            sketch = grown
            inside.update(added)
            tells.append(node)
    return Portion(tuple(sorted(inside)), tuple(tells))


def _closed(parents: Parents, nodes: Iterable[int]) -> set[int]:
    """Return some nodes with all their causes, and theirs."""
    found: set[int] = set()
    waiting = list(nodes)
    while waiting:
        node = waiting.pop()
        if node not in found:
            found.add(node)
            waiting.extend(parents[node])
    return found


@dataclass(slots=True)
class _Sketch:
    """A tree of bags without tables: which variables meet where, and what that would cost.

    `masks[b]` are the variables of bag b; every variable's bags hang together, and `home[v]` is the
    topmost of them. `above[b]` is the bag over it, -1 for none; `depth[b]` counts those over it.
    """

    masks: list[int] = field(default_factory=list)
    above: list[int] = field(default_factory=list)
    depth: list[int] = field(default_factory=list)
    home: dict[int, int] = field(default_factory=dict)
    cells: int = 0

    @classmethod
    def of(
        cls, parents: Parents, nodes: Sequence[int], scopes: Iterable[tuple[int, ...]]
    ) -> _Sketch:
        """Return the tree of some nodes, their wide families met in a point as gates will be."""
        size = len(parents)
        points = [node for node in nodes if len(parents[node]) > 2]
        neighbours = [0] * (size + len(points))
        used = set(nodes)
        for node in nodes:
            if len(parents[node]) <= 2:
                link(neighbours, (*parents[node], node))
        for point, node in enumerate(points, start=size):
            used.add(point)
            for end in (*parents[node], node):
                link(neighbours, (end, point))
        for scope in scopes:
            link(neighbours, scope)
        kept = sorted(used)
        place = {variable: i for i, variable in enumerate(kept)}
        steps = eliminate([_renamed(neighbours[variable], place) for variable in kept])
        sketch = cls()
        sketch.add(0, -1)  # the root, so that there always is a place
        rank = {variable: step for step, variable in enumerate(steps.order)}
        rows = list(zip(steps.order, steps.beside, strict=True))
        at: dict[int, int] = {}
        for variable, beside in reversed(rows):  # those above come first
            above = min(bits(beside), key=rank.__getitem__, default=-1)
            mask = sum(1 << kept[other] for other in (variable, *bits(beside)))
            at[variable] = sketch.add(mask, at.get(above, 0))
            sketch.home[kept[variable]] = at[variable]
        return sketch

    def copy(self) -> _Sketch:
        """Return one that can be changed by itself."""
        return _Sketch(
            list(self.masks), list(self.above), list(self.depth), dict(self.home), self.cells
        )

    def with_node(self, node: int, causes: tuple[int, ...]) -> _Sketch:
        """Return the tree with one node more, hung where that is cheapest.

        If one bag holds all its causes it gets a bag of its own there. Else a gate runs between
        them, one variable more in every bag on the way.
        """
        grown = self.copy()
        family = sum(1 << cause for cause in causes)
        hubs = self._richest(family)
        if not family & ~self.masks[hubs[0]]:
            grown.home[node] = grown.add(family | 1 << node, hubs[0])
            return grown
        ways = min((self._ways(hub, causes) for hub in hubs), key=self._price)
        for b in ways:
            grown.cells += 1 << grown.masks[b].bit_count()
            grown.masks[b] |= 1 << node
        grown.home[node] = min(ways, key=self.depth.__getitem__)
        return grown

    def _richest(self, family: int) -> list[int]:
        """Return some bags that hold most of a family, the smallest first."""
        overlap = [(mask & family).bit_count() for mask in self.masks]
        most = max(overlap)
        found = [b for b, count in enumerate(overlap) if count == most]
        return sorted(found, key=lambda b: self.masks[b].bit_count())[:_HUBS]

    def _ways(self, hub: int, causes: Iterable[int]) -> set[int]:
        """Return the bags between a hub and all causes."""
        on_the_way = {hub}
        for cause in causes:
            for b in self._way(hub, self.home[cause]):
                on_the_way.add(b)
                if self.masks[b] >> cause & 1:
                    break
        return on_the_way

    def _price(self, ways: set[int]) -> int:
        return sum(1 << self.masks[b].bit_count() for b in ways)

    def _way(self, start: int, end: int) -> list[int]:
        up, down = [start], [end]
        while up[-1] != down[-1]:
            climber = up if self.depth[up[-1]] > self.depth[down[-1]] else down
            climber.append(self.above[climber[-1]])
        return up + down[-2::-1]

    def add(self, mask: int, above: int) -> int:
        """Hang a new bag below another, and return its number."""
        self.masks.append(mask)
        self.above.append(above)
        self.depth.append(self.depth[above] + 1 if above >= 0 else 0)
        self.cells += 1 << mask.bit_count()
        return len(self.masks) - 1


def _renamed(mask: int, place: dict[int, int]) -> int:
    return sum(1 << place[variable] for variable in bits(mask))
