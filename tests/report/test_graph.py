"""Pictures of graphs: nothing overlaps, nothing is cut off, nothing is told by colour alone."""

from __future__ import annotations

import re
from itertools import combinations, pairwise
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demos import shipped
from tailblock.knowledge.graph import Arrow, Box, Graph, Kind, graph_of_fault, graph_of_part
from tailblock.report.graph_mermaid import to_mermaid
from tailblock.report.graph_svg import to_svg
from tailblock.report.layers import BOX, LETTER, lay_out

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.layout import Layout

SVG = "{http://www.w3.org/2000/svg}"
KINDS: tuple[Kind, ...] = ("fault", "symptom", "check", "remedy")
WORDS = ("almost-always", "often", "rarely", "sometimes, if bracing ladder")


@st.composite
def graphs(draw: st.DrawFn) -> Graph:
    count = draw(st.integers(1, 14))
    ids = [f"n{i}" for i in range(count)]
    names = st.text("abc <&\"'é", min_size=1, max_size=70).map(lambda text: f"x{text}")
    kinds: st.SearchStrategy[Kind] = st.sampled_from(KINDS)
    boxes = {id_: Box(draw(kinds), id_, "fault, serious", draw(names)) for id_ in ids}
    pairs = [(a, b) for a, b in combinations(ids, 2)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, max_size=30)) if pairs else []
    arrows = tuple(
        Arrow(a, b, draw(st.floats(0.01, 0.99)), draw(st.sampled_from(WORDS))) for a, b in chosen
    )
    return Graph(draw(names), boxes, arrows)


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Return whether two rectangles (left, top, right, bottom) share more than an edge."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def boxes_of(layout: Layout) -> list[tuple[float, ...]]:
    return [(p.x, p.y, p.x + BOX, p.y + p.height) for p in layout.places]


def words_of(layout: Layout) -> list[tuple[float, ...]]:
    return [
        (x - 16 - 6.4 * len(path.arrow.word), y - 8, x - 16, y + 8)
        for path in layout.paths
        for x, y in path.points[-1:]
    ]


def sound(layout: Layout) -> None:
    boxes, words = boxes_of(layout), words_of(layout)
    assert not any(overlap(a, b) for a, b in combinations(boxes + words, 2))
    for left, top, right, bottom in boxes + words:
        assert min(left, top) >= 0
        assert right <= layout.width
        assert bottom <= layout.height
    for place in layout.places:  # each line of text fits into its box
        assert all(len(line) * LETTER <= BOX - 20 for line in place.lines)
        assert len(place.lines) * 17 <= place.height
    for path in layout.paths:
        for (x1, y1), (x2, y2) in pairwise(path.points):
            assert x1 < x2
            # from layer to layer it stays in the channel, and beside boxes it keeps its lane
            if y1 == y2:
                assert not any(overlap((x1, y1 - 2, x2, y1 + 2), box) for box in boxes)


@given(graph=graphs())
def test_what_does_not_hang_together_stands_near(graph: Graph) -> None:
    layout = lay_out(graph)
    taken = sorted(
        [(top, bottom) for _, top, _, bottom in boxes_of(layout)]
        + [(y - 8.5, y + 8.5) for path in layout.paths for _, y in path.points]
    )
    floor = taken[0][1]
    for top, bottom in taken:
        assert top - floor <= 16.1  # the gap between two boxes
        floor = max(floor, bottom)


@given(graph=graphs())
def test_nothing_overlaps_and_nothing_is_cut_off(graph: Graph) -> None:
    layout = lay_out(graph)
    sound(layout)
    assert {place.box for place in layout.places} == set(graph.boxes.values())
    assert [path.arrow for path in layout.paths] == list(graph.arrows)


@given(graph=graphs())
def test_arrows_run_from_left_to_right_and_end_at_their_boxes(graph: Graph) -> None:
    layout = lay_out(graph)
    where = {place.box.id: place for place in layout.places}
    for path in layout.paths:
        source, target = where[path.arrow.source], where[path.arrow.target]
        (x1, y1), (x2, y2) = path.points[0], path.points[-1]
        assert (x1, x2) == (source.x + BOX, target.x)
        assert source.y < y1 < source.y + source.height
        assert target.y < y2 < target.y + target.height


@given(graph=graphs())
def test_a_picture_says_everything_in_words(graph: Graph) -> None:
    root = ET.fromstring(to_svg(graph))  # noqa: S314  our own text
    texts = [text.text or "" for text in root.iter(f"{SVG}text")]
    whole = "".join(texts).replace(" ", "")
    for box in graph.boxes.values():
        assert "".join(box.name.split()) in whole
    assert sorted(t.text or "" for t in root.iter(f"{SVG}text") if t.get("class") == "word") == (
        sorted(arrow.word for arrow in graph.arrows)
    )


@given(graph=graphs())
def test_the_heavier_line_is_the_stronger_arrow(graph: Graph) -> None:
    root = ET.fromstring(to_svg(graph))  # noqa: S314  our own text
    lines = [p for p in root.iter(f"{SVG}path") if "line" in (p.get("class") or "")]
    weights = [float(line.get("stroke-width") or 0) for line in lines]
    ranked = sorted(zip((arrow.chance for arrow in graph.arrows), weights, strict=True))
    assert [weight for _, weight in ranked] == sorted(weights)


def test_what_mends_is_dashed() -> None:
    boxes = {"a": Box("remedy", "a", "remedy, 1 h", "A"), "b": Box("fault", "b", "fault", "B")}
    graph = Graph("G", boxes, (Arrow("a", "b", 0.8, "usually", mends=True),))
    assert 'class="line mends"' in to_svg(graph)
    assert 'remedy_a -.->|"usually"| fault_b' in to_mermaid(graph)


def test_mermaid_quotes_what_it_would_read_as_its_own() -> None:
    boxes = {
        "end": Box("fault", "end", "fault, serious", 'A "loud" <b>crack</b> #1'),
        "off": Box("check", "off", "check, 1 min", "Look"),
    }
    text = to_mermaid(Graph("G", boxes, (Arrow("end", "off", 0.6, "often"),)))
    assert text.splitlines() == [
        "flowchart LR",
        "  accTitle: G",
        '  fault_end["fault, serious<br>A #34;loud#34; #60;b#62;crack#60;/b#62; #35;1"]',
        '  check_off{{"check, 1 min<br>Look"}}',
        '  fault_end ==>|"often"| check_off',
    ]


@pytest.fixture(scope="module")
def flat_top() -> Checklist:
    return shipped("flat-top")


def test_every_part_and_fault_of_the_shipped_checklist_can_be_drawn(flat_top: Checklist) -> None:
    for part in flat_top.parts:
        sound(lay_out(graph_of_part(flat_top, part)))
    for fault in flat_top.faults:
        layout = lay_out(graph_of_fault(flat_top, fault))
        sound(layout)
        assert re.match(r"<svg [^>]*viewBox", to_svg(graph_of_fault(flat_top, fault)))
