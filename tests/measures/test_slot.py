"""The saddle as a lever in its slot."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.limits import OutOfRange
from tailblock.measures.slot import exposure_limit, saddle_lever, saddle_share, slot_lip_load


def test_saddle_share() -> None:
    assert saddle_share(6, 3) == 2


@given(st.floats(0, 500), st.floats(0, 10), st.floats(1, 12))
def test_the_lip_carries_what_equilibrium_asks(force: float, exposure: float, depth: float) -> None:
    """Forces and moments of the free saddle, solved by numpy: lip at the top, foot at the bottom.

    `lip - foot = F` and, about the lip, `foot D = F E`.
    """
    lip, foot = np.linalg.solve([[1.0, -1.0], [0.0, depth]], [force, force * exposure])
    assert slot_lip_load(force, exposure, depth) == pytest.approx(lip, abs=1e-9)
    assert slot_lip_load(force, exposure, depth) - force == pytest.approx(foot, abs=1e-9)


@pytest.mark.parametrize(
    ("exposure", "depth", "lever"), [(3, 6, 1.5), (5, 4, 2.25), (6, 3, 3.0), (0, 5, 1.0)]
)
def test_lever(exposure: float, depth: float, lever: float) -> None:
    """Worked here."""
    assert saddle_lever(exposure, depth) == lever


@given(st.floats(0.5, 12), st.floats(1, 4))
def test_at_its_limit_the_lever_is_the_limit(depth: float, limit: float) -> None:
    assert saddle_lever(exposure_limit(depth, limit), depth) == pytest.approx(limit)


def test_sizes_are_not_negative() -> None:
    with pytest.raises(OutOfRange, match="slot depth is -1"):
        saddle_share(-1, 8)
    with pytest.raises(OutOfRange, match="exposure is 0"):
        saddle_share(1, 0)
    with pytest.raises(OutOfRange, match="slot depth is 0"):
        saddle_lever(3, 0)
    with pytest.raises(OutOfRange, match=r"lever limit is 0\.5"):
        exposure_limit(6, 0.5)
    with pytest.raises(OutOfRange, match="forward force is -1"):
        slot_lip_load(-1, 3, 6)
