"""Rules of thumb of the trade against the formulas: every one common practice, no source.

A rule that the formulas bear out is asserted as it is spoken. Where they do not, the test says by
how much, and what would bring the two together.
"""

from __future__ import annotations

import pytest

from tailblock.measures import both_systems, parse
from tailblock.measures.action import action_from_geometry, projection_from_action
from tailblock.measures.arch import sagitta
from tailblock.measures.beams import rectangular_stiffness, stiffness_for_weight, stiffness_ratio
from tailblock.measures.break_angle import (
    break_angle_pinless,
    redrilling_gain,
    saddle_forward_force,
)
from tailblock.measures.heel import abrasive_strokes, heel_cut, reset_rise, rise_of_cut
from tailblock.measures.relief import aim_at_normal_relief
from tailblock.measures.rows.arguments import ASSUMED
from tailblock.measures.saddle import action_for_saddle, saddle_from_geometry
from tailblock.measures.settling import action_forecast
from tailblock.measures.slot import exposure_limit, saddle_lever, slot_lip_load


def mm(text: str) -> float:
    return parse(text, "length").quantity.value


SIZES = {"scale_length": 648.0, "compensation": 2.0}
IDENTITY = {**SIZES, "relief_share": 0.35}
DAY = 24.0


@pytest.mark.parametrize("scale", [mm("24 in"), mm("24.75 in"), mm("25.4 in"), 650.0])
@pytest.mark.parametrize("lowered", [mm("1/64 in"), mm("1/32 in"), mm("1/16 in")])
def test_lowering_the_saddle_lowers_the_action_by_half(scale: float, lowered: float) -> None:
    """Common practice, no source. The formula: 0.47, six parts in a hundred less than half."""
    dropped = 2.5 - action_for_saddle(4.0, 2.5, 4.0 - lowered, scale, 2.0)
    assert dropped == pytest.approx(lowered / 2, rel=0.07)
    assert dropped < lowered / 2


class TestStraightedgeActionAndExposureAfterAReset:
    """A straightedge 1/32 in over the bridge's front, action 5/64 in, exposure 7/64 in.

    Common practice, no source. Opening at fret 1 of 0.40 mm and relief of 0.15 mm are ordinary.
    """

    opening, relief = 0.40, 0.15
    projection, action, exposure = mm("1/32 in"), mm("5/64 in"), mm("7/64 in")

    def found(self, exposure: float, projection: float) -> float:
        return action_from_geometry(self.opening, exposure, projection, self.relief, **IDENTITY)

    def test_the_three_do_not_agree(self) -> None:
        """Read at pitch and at the middle they give 3/64 in of action, 1/32 in too little."""
        action = self.found(self.exposure, self.projection)
        assert both_systems(action) == "1.20 mm (3/64 in)"
        assert self.action - action == pytest.approx(0.79, abs=0.01)
        # in saddle: 11/64 in is needed where 7/64 in are said to do
        needed = saddle_from_geometry(
            self.action, self.opening, self.projection, self.relief, **IDENTITY
        )
        assert both_systems(needed) == "4.46 mm (11/64 in)"
        assert needed - self.exposure == pytest.approx(1.68, abs=0.01)

    def test_no_other_aim_but_one_below_the_bridge_brings_them_together(self) -> None:
        """With 7/64 in of saddle the straightedge would meet the bridge 0.9 mm under its top."""
        aim = projection_from_action(
            self.action, self.opening, self.exposure, self.relief, **IDENTITY
        )
        assert aim == pytest.approx(-0.88, abs=0.01)
        assert self.found(self.exposure, aim) == pytest.approx(self.action)

    def test_where_and_when_they_were_read_explains_it(self) -> None:
        """Exposure at the low string of a 16 in radius is more at the middle; aim without strings.

        Stringing takes about 0.5 mm of aim by itself (from memory: 0.3 to 0.8) and 2.9 for each mm
        of relief that it pulls in, here 0.10.
        """
        at_middle = self.exposure + sagitta(54, mm("16 in"))
        assert at_middle == pytest.approx(3.68, abs=0.005)
        strung = aim_at_normal_relief(self.projection - 0.5, 0.0, 0.10, 2.9)
        assert strung == pytest.approx(0.0, abs=0.01)
        assert self.found(at_middle, self.projection) == pytest.approx(1.62, abs=0.01)
        assert self.found(at_middle, strung) == pytest.approx(self.action, abs=0.02)


def test_the_first_days_after_stringing() -> None:
    """Half of 1/64 in, common practice, no source: 0.2 mm, most of it within three days."""
    rise = ASSUMED["settling_rise"][0]
    assert rise == pytest.approx(mm("0.5/64 in"), abs=0.005)
    risen = [action_forecast(2.0, 0, day * DAY, rise, 48) - 2.0 for day in (3, 7, 30)]
    assert risen[0] > 0.75 * mm("0.5/64 in")
    assert risen[1] == pytest.approx(mm("0.5/64 in"), abs=0.01)
    assert risen[2] - risen[1] < 0.01


def test_exposure_in_an_open_slot() -> None:
    """More than 1/8 in is a risk, common practice, no source.

    The lever reaches 1.5, two thirds in the slot, just there if the slot is 1/4 in deep; in one of
    3/16 in the same exposure already loads the lip by a ninth more.
    """
    limit = ASSUMED["lever_limit"][0]
    assert exposure_limit(mm("1/4 in"), limit) == pytest.approx(mm("1/8 in"))
    assert saddle_lever(mm("1/8 in"), mm("3/16 in")) / limit == pytest.approx(10 / 9)
    # six light strings at a break of 20 degrees press on the lip with the weight of 7 kg
    lip = slot_lip_load(saddle_forward_force(734, 20), mm("1/8 in"), mm("1/4 in"))
    assert lip / 9.80665 == pytest.approx(6.8, abs=0.1)


def test_a_lower_hole_of_a_pinless_bridge() -> None:
    """1/32 in of break, common practice, no source: three or four degrees on an ordinary bridge."""
    lowered = mm("1/32 in")
    gains = [redrilling_gain(2.5, 1.0, distance, lowered) for distance in (10, 12, 14)]
    assert all(2.5 < gain < 4.5 for gain in gains)
    # as much as 1/32 in more saddle would win, which costs action and moment
    taller, as_it_was = (break_angle_pinless(e, 1.0, 12) for e in (2.5 + lowered, 2.5))
    assert gains[1] == pytest.approx(taller - as_it_was)


class TestSoundholeStraps:
    """Straps of 4.5 mm by 13 mm are stiff for their weight: common practice, no source.

    Against a ladder brace of 6 mm by 10 mm, all of one spruce.
    """

    spruce = 10800.0
    brace = (6.0, 10.0)

    def for_weight(self, height: float) -> float:
        return stiffness_for_weight(
            self.spruce, 420, height, other_modulus=self.spruce, other_density=420,
            other_height=self.brace[1],
        )  # fmt: skip

    def ratio(self, width: float, height: float) -> float:
        return stiffness_ratio(
            self.spruce, width, height, other_modulus=self.spruce, other_width=self.brace[0],
            other_height=self.brace[1],
        )  # fmt: skip

    def test_on_edge_they_are(self) -> None:
        """Worked here: 823.9 mm^4 against 500, of 58.5 mm^2 against 60."""
        assert self.ratio(4.5, 13) == pytest.approx(823.875 / 500)
        assert self.for_weight(13) == pytest.approx(1.69)

    def test_laid_flat_they_are_not(self) -> None:
        """Worked here: 98.7 mm^4, a fifth of the brace at the same weight, an eighth of on edge."""
        assert self.ratio(13, 4.5) == pytest.approx(98.71875 / 500)
        assert self.for_weight(4.5) == pytest.approx(0.2025)
        on_edge, flat = (
            rectangular_stiffness(self.spruce, *size) for size in ((4.5, 13), (13, 4.5))
        )
        assert on_edge / flat == pytest.approx((13 / 4.5) ** 2)

    def test_a_ladder_brace_as_high_is_as_stiff_for_its_weight(self) -> None:
        """Only the height counts: a brace of 13 mm is their equal, a taller one their better."""
        tall = stiffness_for_weight(
            self.spruce, 420, 13, other_modulus=self.spruce, other_density=420, other_height=16
        )
        assert tall == pytest.approx((13 / 16) ** 2)


def test_a_reset_by_pulling_abrasive() -> None:
    """Tens of strokes a side, checked every few: common practice, no source.

    An ordinary case: action 2.7 mm over a saddle of 1.6 mm, to be 2.0 over 3.2. Wood removed
    against the formula, with what is assumed for a stroke (from memory, half as much either way).
    """
    rise = reset_rise(2.7, 2.0, 1.6, 3.2, **SIZES)
    assert rise == pytest.approx(3.1, abs=0.05)
    cut = heel_cut(rise, 85, join=14, **SIZES)
    assert both_systems(cut) == "0.90 mm (.036 in)"
    stroke, spread = ASSUMED["wood_per_stroke"]
    for taken in (stroke - spread, stroke, stroke + spread):
        strokes = abrasive_strokes(cut, taken)
        assert 20 < strokes < 100
        assert rise_of_cut(strokes * taken, 85, join=14, **SIZES) == pytest.approx(rise)
    # five strokes between two looks: less than the 0.5 mm that a straightedge is read to
    assert rise_of_cut(5 * stroke, 85, join=14, **SIZES) < 0.5
