"""The strip of a gauge: order and edges survive the drawing."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tailblock.report.drawing import WIDTH, strip
from tailblock.report.model import Gauge

values = st.floats(-1e4, 1e4)


@given(values, st.floats(0, 100), st.lists(values, min_size=1, max_size=5, unique=True))
def test_everything_lies_on_the_strip_and_in_order(
    value: float, u: float, edges: list[float]
) -> None:
    edges = sorted(edges)
    drawn = strip(Gauge(value, u, tuple(edges), (None, edges[0]), ""))
    for place in (drawn.value, *drawn.whisker, *drawn.edges, *drawn.normal):
        assert 0 <= place <= WIDTH
    assert drawn.whisker[0] <= drawn.value <= drawn.whisker[1]
    assert list(drawn.edges) == sorted(drawn.edges)
    for edge, place in zip(edges, drawn.edges, strict=True):
        assert (place <= drawn.value) == (edge <= value) or abs(place - drawn.value) <= 0.1


def test_an_open_end_of_the_normal_band_runs_to_the_edge_of_the_strip() -> None:
    assert strip(Gauge(1.0, 0.1, (2.0,), (None, 2.0), "")).normal[0] == 0
    assert strip(Gauge(1.0, 0.1, (2.0,), (2.0, None), "")).normal[1] == WIDTH
