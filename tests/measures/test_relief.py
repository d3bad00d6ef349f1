"""Relief as an arc, and what it does to action and aim."""

from __future__ import annotations

from statistics import mean, stdev
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from tailblock.measures.action import action_from_geometry
from tailblock.measures.arch import arch_over_span
from tailblock.measures.limits import OutOfRange
from tailblock.measures.relief import (
    action_at_normal_relief,
    aim_at_normal_relief,
    aim_rod_share,
    bow_radius,
    bow_relief,
    relief_change,
    relief_twist,
    rod_share,
)
from tailblock.measures.rows.arguments import ASSUMED

if TYPE_CHECKING:
    from collections.abc import Callable

SCALE = 648.0
SADDLE = SCALE + 2  # nut to saddle


def fret(number: int) -> float:
    """Equal temperament, written out again."""
    return float(SCALE * (1 - 0.5 ** (number / 12)))


JOIN = fret(14)

# Curvature along the neck, from the nut (0) to the join, zero outside: five shapes of bow.
BOWS: dict[str, Callable[[float], float]] = {
    "even": lambda x: float(0 <= x <= JOIN),
    "rounded": lambda x: x * (JOIN - x) / JOIN**2,
    "frets 1 to 12": lambda x: float(fret(1) <= x <= fret(12)),
    "frets 2 to 9": lambda x: float(fret(2) <= x <= fret(9)),
    "frets 5 to 12": lambda x: float(fret(5) <= x <= fret(12)),
}


class Bowed:
    """A neck bent to a bow, by integration: the body holds height and tangent at the join.

    Heights are over the straight neck's fret plane, x from the nut; nut and saddle stand on neck
    and body. No formula of the package is used.
    """

    def __init__(self, curvature: Callable[[float], float], relief: float) -> None:
        self.breaks = [fret(number) for number in (1, 2, 5, 9, 12)]
        self.curvature, self.scale = curvature, 1.0
        self.scale = relief / self._gap()

    def height(self, x: float) -> float:
        if x >= JOIN:
            return 0.0
        points = [b for b in self.breaks if x < b < JOIN] or None
        bent = integrate.quad(lambda s: (s - x) * self.curvature(s), x, JOIN, points=points)[0]
        return float(self.scale * bent)

    def line(self, x: float) -> float:
        """Height of a straightedge on fret 1 and the join."""
        return self.height(fret(1)) * (JOIN - x) / (JOIN - fret(1))

    def _gap(self) -> float:
        found = optimize.minimize_scalar(
            lambda x: self.height(x) - self.line(x), bounds=(fret(1), JOIN), method="bounded"
        )
        return float(-found.fun)

    def string(self, x: float, nut: float, saddle: float) -> float:
        """Height of a string from the nut, over the neck there, to the saddle over the plane."""
        at_nut = self.height(0) + nut
        return at_nut + (saddle - at_nut) * x / SADDLE


@pytest.mark.parametrize("shape", BOWS)
@pytest.mark.parametrize("relief", [0.15, 0.5])
def test_action_identity_closes_on_a_bent_neck(shape: str, relief: float) -> None:
    """What a bent neck shows at fret 1, at fret 12 and at the bridge fulfils the identity."""
    neck = Bowed(BOWS[shape], relief)
    nut, saddle = 0.5, 4.0
    opening = neck.string(fret(1), nut, saddle) - neck.height(fret(1))
    action = neck.string(fret(12), nut, saddle) - neck.height(fret(12))
    left = neck.line(fret(12)) - neck.height(fret(12))
    projection = neck.line(SADDLE)  # over a bridge top that is level with the straight neck
    found = action_from_geometry(
        opening,
        saddle,
        projection,
        relief,
        scale_length=SCALE,
        compensation=SADDLE - SCALE,
        relief_share=left / relief,
    )
    assert found == pytest.approx(action, abs=1e-6)
    assert 0.25 < left / relief < 0.42  # the share of relief that is left at fret 12, taken as 0.35


@pytest.mark.parametrize("shape", BOWS)
def test_relief_taken_out_leaves_the_straight_neck(shape: str) -> None:
    """Whatever the bow, its relief taken out by the factors leaves action and aim within 2 u."""
    relief = 0.3
    straight, bent = Bowed(BOWS[shape], 1e-9), Bowed(BOWS[shape], relief)
    action, action_bent = (
        neck.string(fret(12), 0.5, 4.0) - neck.height(fret(12)) for neck in (straight, bent)
    )
    factor, u = ASSUMED["action_per_relief"]
    found = action_at_normal_relief(action_bent, relief, 0.0, factor)
    assert found == pytest.approx(action, abs=2 * u * relief)
    factor, u = ASSUMED["aim_per_relief"]
    found = aim_at_normal_relief(bent.line(SADDLE), relief, 0.0, factor)
    assert found == pytest.approx(0.0, abs=2 * u * relief)


def test_the_factors_are_the_means_of_the_five_bows() -> None:
    bows = [Bowed(bow, 1.0) for bow in BOWS.values()]
    straight = 0.5 + (4.0 - 0.5) * fret(12) / SADDLE
    actions = [bow.string(fret(12), 0.5, 4.0) - bow.height(fret(12)) - straight for bow in bows]
    aims = [-bow.line(SADDLE) for bow in bows]
    shares = [bow.line(fret(12)) - bow.height(fret(12)) for bow in bows]
    for name, seen in (
        ("action_per_relief", actions), ("aim_per_relief", aims), ("relief_share", shares)
    ):  # fmt: skip
        factor, u = ASSUMED[name]
        assert mean(seen) == pytest.approx(factor, abs=0.1), name
        assert stdev(seen) == pytest.approx(u, abs=0.1), name


@pytest.mark.parametrize(("bass", "treble", "twist"), [(0.3, 0.12, 0.18), (0.12, 0.3, 0.18)])
def test_twist_has_no_sign(bass: float, treble: float, twist: float) -> None:
    assert relief_twist(bass, treble) == pytest.approx(twist)


def test_load_bends_the_neck() -> None:
    assert relief_change(pitch=0.30, slack=0.05) == pytest.approx(0.25)


@given(st.floats(0.01, 3), st.floats(300, 900), st.floats(10, 20))
def test_relief_is_the_sagitta_of_the_bow(relief: float, scale: float, join: float) -> None:
    radius = bow_radius(relief, scale, join)
    assert bow_relief(radius, scale, join) == pytest.approx(relief, rel=1e-6)
    # three points of the circle: ends of the chord and its middle, by the intersecting chords
    chord = scale * (2 ** (-1 / 12) - 2 ** (-join / 12))
    assert relief * (2 * radius - relief) == pytest.approx((chord / 2) ** 2, rel=1e-9)


def test_relief_over_fewer_frets_is_less_by_the_square() -> None:
    """Worked here: frets 1 to 9 are 226.4 mm of the 323.0 mm of frets 1 to 14."""
    short, long = fret(9) - fret(1), JOIN - fret(1)
    assert arch_over_span(0.2, long, short) == pytest.approx(0.2 * (short / long) ** 2, rel=1e-5)


def test_a_straight_neck_has_no_radius() -> None:
    with pytest.raises(OutOfRange, match="rise is 0"):
        bow_radius(0, 648, 14)
    with pytest.raises(OutOfRange, match="join is 1"):
        bow_relief(65000, 648, 1)


def test_relief_fakes_a_lost_angle_and_a_high_action() -> None:
    """Worked here: 0.1 mm of relief is about 0.2 mm of action and 0.3 mm of aim."""
    assert aim_at_normal_relief(-1.0, 0.165, 0.165, 2.9) == -1.0
    assert aim_at_normal_relief(-1.0, 0.265, 0.165, 2.9) == pytest.approx(-0.71)
    assert action_at_normal_relief(2.5, 0.265, 0.165, 2.0) == pytest.approx(2.3)


@pytest.mark.parametrize(
    ("action", "relief", "share"),
    [(3.4, 0.50, 50), (2.5, 0.50, 100), (3.0, 0.15, 0), (3.0, 0.05, 0), (1.8, 0.50, 0)],
)
def test_share_of_the_rod_in_the_action(action: float, relief: float, share: float) -> None:
    """Worked here: 2.0 mm and 0.15 mm wanted, 2.0 mm of action for each mm of relief."""
    assert rod_share(action, 2.0, relief, 0.15, 2.0) == pytest.approx(share)


@pytest.mark.parametrize(
    ("projection", "relief", "share"),
    [(-2.03, 0.50, 50), (-0.5, 0.50, 100), (-2.0, 0.15, 0), (-2.0, 0.0, 0), (0.5, 0.50, 0)],
)
def test_share_of_the_rod_in_the_aim(projection: float, relief: float, share: float) -> None:
    """Worked here: level with the bridge and 0.15 mm wanted, 2.9 mm of aim per mm of relief."""
    assert aim_rod_share(projection, 0.0, relief, 0.15, 2.9) == pytest.approx(share)


@given(st.floats(0, 10), st.floats(0, 2), st.floats(-8, 8))
def test_shares_are_shares(action: float, relief: float, projection: float) -> None:
    assert 0 <= rod_share(action, 2.0, relief, 0.15, 2.0) <= 100
    assert 0 <= aim_rod_share(projection, 0.0, relief, 0.15, 2.9) <= 100
