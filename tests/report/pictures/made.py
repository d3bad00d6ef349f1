"""Gauges of lengths for the tests of pictures."""

from __future__ import annotations

from hypothesis import strategies as st

from tailblock.knowledge.levels import Levels
from tailblock.report.measured import zones
from tailblock.report.model import Gauge
from tailblock.report.wording import shown


def gauge(value: float, u: float, edges: tuple[float, ...], normal: int = 0) -> Gauge:
    """Return a gauge of a length; `normal` counts the normal field from the low end."""
    ids = tuple(f"level-{at}" for at in range(len(edges) + 1))
    return Gauge(
        value=value,
        uncertainty=u,
        edges=edges,
        limits=tuple(shown(edge, "length") for edge in edges),
        zones=zones(Levels(ids, normal)),
        normal=(
            edges[normal - 1] if normal else None,
            edges[normal] if normal < len(edges) else None,
        ),
        text="said",
    )


@st.composite
def gauges(draw: st.DrawFn) -> Gauge:
    """Return gauges of any length, limits on either side, values in and far out of them."""
    hundredths = st.integers(-3_000, 70_000)
    edges = sorted(draw(st.lists(hundredths, min_size=1, max_size=6, unique=True)))
    return gauge(
        draw(hundredths) / 100,
        draw(st.integers(0, 500)) / 100,
        tuple(edge / 100 for edge in edges),
        draw(st.integers(0, len(edges))),
    )
