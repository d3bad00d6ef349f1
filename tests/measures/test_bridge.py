"""Tilt of the bridge, break angle and the saddle in its slot."""

from __future__ import annotations

import pytest

from tailblock.measures.bridge import break_angle, saddle_share, tilt_change
from tailblock.measures.limits import OutOfRange


def test_the_bridge_turns_under_load() -> None:
    assert tilt_change(pitch=2.6, slack=1.1) == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("height", "distance", "angle"),
    [
        (3, 8, 20.6),
        (2, 8, 14.0),
        (1, 8, 7.1),
        (5, 8, 32.0),
        (5, 5, 45.0),
        (0, 8, 0.0),
        (1, 0, 90.0),
    ],
)
def test_break_angle(height: float, distance: float, angle: float) -> None:
    """Worked here from plane geometry."""
    assert break_angle(height, distance) == pytest.approx(angle, abs=0.06)


def test_saddle_share() -> None:
    assert saddle_share(6, 3) == 2


def test_sizes_are_not_negative() -> None:
    with pytest.raises(OutOfRange, match="height is -1"):
        break_angle(-1, 8)
    with pytest.raises(OutOfRange, match="slot depth is -1"):
        saddle_share(-1, 8)
    with pytest.raises(OutOfRange, match="exposure is 0"):
        saddle_share(1, 0)
