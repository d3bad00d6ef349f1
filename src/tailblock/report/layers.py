"""A graph in layers from left to right: where its boxes stand and its arrows run.

In: a `Graph`. Out: a `Layout` in pixels. Boxes stand one layer behind the last of their sources;
an arrow over several layers keeps a lane free in each, so that nothing runs under a box. Every
arrow has its own place at both ends, with its word in front of the head: words never meet.

Source of the steps (layers, lanes, order by the middle of the neighbours): K. Sugiyama, S. Tagawa
and M. Toda, "Methods for visual understanding of hierarchical system structures", 1981 (from
memory).
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

import networkx as nx

from tailblock.report.layout import Layout, Path, Place
from tailblock.report.pictures.labels import side_by_side

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.knowledge.graph import Arrow, Graph

LETTER = 7.2  # width of a letter of the text, generously
LINE = 17.0  # from one line of text to the next
_TEXT = 30  # letters in a line of a box
BOX = _TEXT * LETTER + 20.0  # width of a box
_PORT = 17.0  # between two arrows at one box, and the height of a lane
_GAP = 16.0  # between two boxes
_MARGIN = 24.0
_TITLE = 44.0
_LEGEND = 56.0
_LEAST_CHANNEL = 110.0  # between two layers, for the bends
_SWEEPS = 12


@dataclass(slots=True)
class _Stop:
    """A box or a lane in a layer: neighbours by their index, and where it stands."""

    layer: int
    height: float
    before: list[int] = field(default_factory=list)
    after: list[int] = field(default_factory=list)
    y: float = 0.0

    @property
    def middle(self) -> float:
        return self.y + self.height / 2


def lay_out(graph: Graph) -> Layout:
    """Return where everything stands."""
    draft = _Draft(graph)
    draft.sort()
    draft.settle()
    return draft.layout()


class _Draft:
    def __init__(self, graph: Graph) -> None:
        self._graph = graph
        self._lines = {
            box.id: tuple(textwrap.wrap(box.about, _TEXT) + textwrap.wrap(box.name, _TEXT))
            for box in graph.boxes.values()
        }
        layer = _layers(graph)
        self._index = {id_: at for at, id_ in enumerate(graph.boxes)}
        self._stops = [_Stop(layer[id_], self._height(id_)) for id_ in graph.boxes]
        self._routes = [self._route(arrow) for arrow in graph.arrows]
        self._rows: list[list[int]] = [[] for _ in range(max(layer.values(), default=0) + 1)]
        for at, stop in enumerate(self._stops):
            self._rows[stop.layer].append(at)

    def _height(self, id_: str) -> float:
        arrows = self._graph.arrows
        ports = max(sum(a.target == id_ for a in arrows), sum(a.source == id_ for a in arrows))
        return max(LINE * len(self._lines[id_]) + 14.0, _PORT * (ports + 1))

    def _route(self, arrow: Arrow) -> tuple[int, ...]:
        """Return the stops of an arrow, with a new lane in every layer between its boxes."""
        start, end = self._index[arrow.source], self._index[arrow.target]
        route = [start]
        for layer in range(self._stops[start].layer + 1, self._stops[end].layer):
            route.append(len(self._stops))
            self._stops.append(_Stop(layer, _PORT))
        route.append(end)
        for one, other in pairwise(route):
            self._stops[one].after.append(other)
            self._stops[other].before.append(one)
        return tuple(route)

    def sort(self) -> None:
        """Put each layer in the order of the middle of its neighbours, to and fro."""
        for row in self._rows:
            self._stack(row)
        for sweep in range(_SWEEPS):
            rows = self._rows if sweep % 2 == 0 else self._rows[::-1]
            for row in rows:
                row.sort(key=lambda at: self._wish(at, forward=sweep % 2 == 0))
                self._stack(row)

    def settle(self) -> None:
        """Move every stop towards its neighbours as far as those beside it allow."""
        for sweep in range(_SWEEPS):
            for row in self._rows if sweep % 2 == 0 else self._rows[::-1]:
                self._pull(row, [self._wish(at) - self._stops[at].height / 2 for at in row])
        self._close()

    def _close(self) -> None:
        """Move up what stands below a stretch that is free in all layers, and all to its margin."""
        ordered = sorted(self._stops, key=lambda stop: stop.y)
        floor = ordered[0].y if ordered else 0.0
        shift = floor - _MARGIN - _TITLE
        for stop in ordered:
            shift += max(stop.y - floor - _GAP, 0.0)
            floor = max(floor, stop.y + stop.height)
            stop.y -= shift

    def _wish(self, at: int, *, forward: bool | None = None) -> float:
        """Return the mean middle of the neighbours on one side or both; its own without any."""
        stop = self._stops[at]
        near = {True: stop.before, False: stop.after, None: stop.before + stop.after}[forward]
        middles = [self._stops[other].middle for other in near]
        return sum(middles) / len(middles) if middles else stop.middle

    def _stack(self, row: Sequence[int]) -> None:
        y = 0.0
        for at in row:
            self._stops[at].y = y
            y += self._stops[at].height + _GAP
        for at in row:
            self._stops[at].y -= y / 2

    def _pull(self, row: Sequence[int], wishes: Sequence[float]) -> None:
        """Place a layer near its wishes."""
        sizes = [self._stops[at].height + _GAP for at in row]
        for at, y in zip(row, side_by_side(wishes, sizes), strict=True):
            self._stops[at].y = y

    def layout(self) -> Layout:
        lefts = self._lefts()
        places = tuple(
            Place(box, lefts[stop.layer], stop.y, stop.height, self._lines[box.id])
            for box, stop in zip(self._graph.boxes.values(), self._stops, strict=False)
        )
        width = max((place.x for place in places), default=0.0) + BOX + _MARGIN
        bottom = max((stop.y + stop.height for stop in self._stops), default=0.0)
        title = tuple(
            textwrap.wrap(self._graph.title, int((width - 2 * _MARGIN) / (LETTER * 1.35)))
        )
        shift = LINE * 1.4 * (len(title) - 1)
        for place in places:
            place.y += shift
        paths = tuple(self._paths(lefts, shift))
        return Layout(title, width, bottom + shift + _LEGEND + _MARGIN, places, paths)

    def _lefts(self) -> list[float]:
        """Return the left side of each layer; words must fit in the channel before it."""
        words = [0.0] * len(self._rows)
        for arrow in self._graph.arrows:
            layer = self._stops[self._index[arrow.target]].layer
            words[layer] = max(words[layer], LETTER * len(arrow.word))
        lefts = [_MARGIN]
        for width in words[1:]:
            lefts.append(lefts[-1] + BOX + _LEAST_CHANNEL + width)
        return lefts

    def _paths(self, lefts: Sequence[float], shift: float) -> list[Path]:
        leaving = self._ports([route[0] for route in self._routes], 1)
        arriving = self._ports([route[-1] for route in self._routes], -2)
        paths = []
        for arrow, route, start, end in zip(
            self._graph.arrows, self._routes, leaving, arriving, strict=True
        ):
            points = [(lefts[self._stops[route[0]].layer] + BOX, start + shift)]
            for at in route[1:-1]:
                lane, left = self._stops[at], lefts[self._stops[at].layer]
                points += [(left, lane.middle + shift), (left + BOX, lane.middle + shift)]
            word = LETTER * len(arrow.word) + 26.0  # and the head
            last = lefts[self._stops[route[-1]].layer]
            points += [(last - word, end + shift), (last, end + shift)]
            paths.append(Path(arrow, tuple(points)))
        return paths

    def _ports(self, boxes: Sequence[int], neighbour: int) -> list[float]:
        """Return for each arrow its height at a box: in the order of what is at its other side."""
        at_box: dict[int, list[int]] = {}
        for number, box in enumerate(boxes):
            at_box.setdefault(box, []).append(number)
        heights = [0.0] * len(boxes)
        for box, numbers in at_box.items():
            stop = self._stops[box]
            numbers.sort(key=lambda n: self._stops[self._routes[n][neighbour]].middle)
            first = stop.middle - _PORT * (len(numbers) - 1) / 2
            for place, number in enumerate(numbers):
                heights[number] = first + _PORT * place
        return heights


def _layers(graph: Graph) -> Mapping[str, int]:
    """Return the layer of each box: behind all its sources.

    What has none stands just before the first of its targets.
    """
    directed: nx.DiGraph[str] = nx.DiGraph()
    directed.add_nodes_from(graph.boxes)
    directed.add_edges_from((arrow.source, arrow.target) for arrow in graph.arrows)
    layer = {
        id_: number
        for number, generation in enumerate(nx.topological_generations(directed))
        for id_ in generation
    }
    for id_ in graph.boxes:
        after = [layer[other] for other in directed.successors(id_)]
        if after and not directed.in_degree(id_):
            layer[id_] = min(after) - 1
    return layer
