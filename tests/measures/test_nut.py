"""The nut's slots over the line of the fret crowns."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures.action import action_from_geometry
from tailblock.measures.limits import OutOfRange
from tailblock.measures.nut import (
    first_opening_from_slot,
    nut_slot_floor,
    nut_slot_height,
    nut_slot_lowering,
    nut_slot_share,
)

if TYPE_CHECKING:
    from collections.abc import Callable


def test_at_fret_1_half_of_the_slot_height_is_left() -> None:
    """x1/x2 of equal temperament: 35.283 / 68.587 mm at 628.65 (table worked out in test_frets)."""
    assert 1 / nut_slot_height(1) == pytest.approx(1 - 35.283 / 68.587, abs=1e-5)


@given(st.floats(0, 1), st.floats(0, 6), st.floats(550, 720))
def test_the_opening_lies_on_the_line_to_the_saddle(
    slot: float, saddle: float, scale: float
) -> None:
    """With no relief the action identity and the line from the slot must meet at fret 12."""
    first = first_opening_from_slot(slot, saddle, scale, 2)
    action = action_from_geometry(
        first, saddle, 0, 0, scale_length=scale, compensation=2, relief_share=0.35
    )
    on_the_line = slot + (saddle - slot) * (scale / 2) / (scale + 2)
    assert action == pytest.approx(on_the_line, abs=1e-9)


def test_ordinary_gaps_give_ordinary_openings() -> None:
    """Common practice, no source: gap 0.05 to 0.20, open string over fret 1 0.25 to 0.60."""
    for gap in (0.05, 0.10, 0.20):
        opening = first_opening_from_slot(nut_slot_height(gap), 3.65, 648, 2)
        assert 0.25 < opening < 0.62


@given(st.floats(0, 1), st.floats(0, 1))
def test_filing_by_what_it_says_gives_the_gap_wanted(gap: float, wanted: float) -> None:
    lowered = nut_slot_height(gap) - nut_slot_lowering(gap, wanted)
    assert lowered == pytest.approx(nut_slot_height(wanted), abs=1e-12)
    assert nut_slot_lowering(gap, gap) == 0


def test_a_slot_that_plays_like_a_fret_is_as_high_as_one() -> None:
    assert nut_slot_floor(1.05, 0) == 1.05


def test_half_of_a_wound_string_lies_in() -> None:
    assert nut_slot_share(2.0, 1.3, 1.4) == pytest.approx(0.5)  # common practice, no source


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: nut_slot_height(-0.1), "gap at first is -0.1"),
        (lambda: nut_slot_floor(10, 0.1), "fret height is 10"),
        (lambda: nut_slot_share(1.0, 1.3, 1.4), "nut height is 1"),
        (lambda: nut_slot_share(2.0, 1.3, 0), "string diameter is 0"),
        (lambda: first_opening_from_slot(9, 3, 648, 2), "slot height is 9"),
    ],
)
def test_limits(call: Callable[[], float], says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
