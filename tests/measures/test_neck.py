"""Relief, projection and the angle of the neck."""

from __future__ import annotations

import pytest

from tailblock.measures.neck import (
    aim_at_normal_relief,
    heel_cut,
    neck_reset_angle,
    projection_change,
    relief_change,
    relief_twist,
)


@pytest.mark.parametrize(("bass", "treble", "twist"), [(0.3, 0.12, 0.18), (0.12, 0.3, 0.18)])
def test_twist_has_no_sign(bass: float, treble: float, twist: float) -> None:
    assert relief_twist(bass, treble) == pytest.approx(twist)


def test_load_bends_the_neck_and_folds_it_forward() -> None:
    assert relief_change(pitch=0.30, slack=0.05) == pytest.approx(0.25)
    assert projection_change(slack=0.5, pitch=-0.5) == 1.0


def test_relief_fakes_a_lost_angle() -> None:
    """Worked here: 0.1 mm of relief is about 0.3 mm of aim."""
    assert aim_at_normal_relief(-1.0, 0.165, 0.165, 2.9) == -1.0
    assert aim_at_normal_relief(-1.0, 0.265, 0.165, 2.9) == pytest.approx(-0.71)


@pytest.mark.parametrize(("angle", "rise"), [(0.1, 0.5036), (1.0, 5.036)])
def test_reset_angle(angle: float, rise: float) -> None:
    """Worked here: tilting about the 14th fret of a 647.7 mm scale moves the line at the saddle."""
    assert neck_reset_angle(rise, 647.7, 14, 0) == pytest.approx(angle, rel=1e-4)


@pytest.mark.parametrize(("rise", "cut"), [(1.0, 0.29), (2.0, 0.58), (3.0, 0.88), (3.53, 1.03)])
def test_heel_cut(rise: float, cut: float) -> None:
    """Worked here: 648 mm scale, body at fret 14, heel 85 mm, 2 mm of compensation."""
    assert heel_cut(rise, 85, 648, 14, 2) == pytest.approx(cut, abs=0.005)
