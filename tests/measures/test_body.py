"""Humps and dips of the top, and the hump's share in a lost neck aim."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.arch import sagitta
from tailblock.measures.body import (
    aim_without_hump,
    belly_change,
    hump_height,
    hump_share,
    soundhole_sink,
)


def test_the_top_rises_under_load() -> None:
    assert belly_change(3.4, 2.6) == pytest.approx(0.8)


def test_a_hump_can_clear_the_neck() -> None:
    """Worked here: aim -1.8 over a 5.0 mm arch made as 2.2 mm is -0.1 without the hump."""
    assert aim_without_hump(-1.8, 5.0, 2.2, 0.6) == pytest.approx(-0.12)
    assert hump_share(-1.8, 5.0, 2.2, 0.6, -0.3) == 100


@pytest.mark.parametrize(
    ("projection", "belly", "share"),
    [(-3.0, 4.2, 44.444), (-3.0, 2.2, 0.0), (-3.0, 1.0, 0.0), (0.0, 2.2, 0.0), (-2.1, 4.2, 66.667)],
)
def test_share_of_the_hump(projection: float, belly: float, share: float) -> None:
    """Worked here: h = 0.6 (belly - 2.2), n = -0.3 - projection - h, both not negative."""
    assert hump_share(projection, belly, 2.2, 0.6, -0.3) == pytest.approx(share, abs=1e-3)


@given(st.floats(-8, 3), st.floats(0, 8), st.floats(0, 8))
def test_shares_are_shares(projection: float, belly: float, dome: float) -> None:
    assert 0 <= hump_share(projection, belly, dome, 0.6, -0.3) <= 100


@given(st.floats(-3, 5), st.floats(-2, 2), st.floats(300, 400), st.floats(3000, 1e6))
def test_a_hump_is_what_stands_on_the_dome(
    hump: float, rock: float, chord: float, radius: float
) -> None:
    """A straightedge that rocks shows more at one end and as much less at the other."""
    gap = hump + sagitta(chord, radius)
    assert hump_height(gap + rock, gap - rock, chord, radius) == pytest.approx(hump, abs=1e-9)


@pytest.mark.parametrize(
    ("gap", "radius", "sink"),
    [
        (0.0, 7620, 1.477),  # level with its ends: the whole dome of 1.477 mm is gone
        (1.0, 7620, 2.477),
        (-1.477, 7620, 0.0),  # rocks on the dome as it was made
        (1.0, 1e6, 1.0),  # made flat: 0.01 mm of dome is left
    ],
)
def test_sink_at_the_soundhole(gap: float, radius: float, sink: float) -> None:
    """Worked here: a 300 mm straightedge on a 25 ft dome, 300^2/(8 x 7620) = 1.477."""
    assert soundhole_sink(gap, 300, radius) == pytest.approx(sink, abs=0.02)
