"""Which readings the side view of the neck is drawn from, and when it is not drawn."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.inspection import store
from tailblock.pipeline import examine
from tailblock.report.neck_line import neck_line

if TYPE_CHECKING:
    from tailblock.report.model import NeckLine

SCALE = "scale_length: 648 mm, "
AIM, EXPOSED = "{check: projection, value: -1.5 mm}", "{check: saddle-exposure, value: 3 mm}"
BASS, TREBLE = "{check: action-12-bass, value: 3 mm}", "{check: action-12-treble, value: 2.4 mm}"
FIRST, DIP = "{check: nut-open-first, value: 0.4 mm}", "{check: front-dip, value: 1.2 mm}"
THICK = "{check: bridge-thick, value: 9 mm, setup: {strings: slack}}"


def shown(*readings: str, more: str = SCALE) -> NeckLine | None:
    checklist = shipped("flat-top")
    text = (
        f"tailblock: 1\njob: a\nchecklist: flat-top\ninstrument: {{description: a, {more}"
        "traits: {strings: steel, bridge: pin}}\n"
        f"visits: [{{stage: arrival, date: 2031-03-02, readings: [{', '.join(readings)}]}}]\n"
    )
    inspection = store.from_bytes(text.encode(), Path("a.yaml"), lambda _: checklist)
    return neck_line(examine(checklist, inspection))


@pytest.mark.parametrize(
    ("readings", "more"),
    [
        ((AIM, BASS), SCALE),  # one height besides the aim
        ((BASS, EXPOSED, FIRST), SCALE),  # no aim
        ((AIM, BASS, EXPOSED), ""),  # no scale length
    ],
)
def test_too_little_is_not_drawn(readings: tuple[str, ...], more: str) -> None:
    assert shown(*readings, more=more) is None


def test_heights_stand_from_nut_to_tail_and_two_sides_are_their_mean() -> None:
    found = shown(DIP, AIM, EXPOSED, BASS, TREBLE, FIRST, THICK)
    assert found is not None
    assert [(one.letter, one.name, round(one.value, 3)) for one in found.heights] == [
        ("A", "opening", 0.4),
        ("B", "action", 2.7),
        ("C", "dip", 1.2),
        ("D", "projection", -1.5),
        ("E", "exposure", 3.0),
        ("F", "thickness", 9.0),
    ]
    assert found.heights[1].short == "2.70\xa0mm"
    assert "action, first string, their mean: 2.70" in found.heights[1].text
    assert (found.scale_length, found.frets_clear) == (648.0, 14)
    said = " ".join(found.remarks)
    assert "fret 14, where the body begins, as usual." in said
    assert "Not read, and left out: relief, bass side and belly" in said
    assert "disagree" in said


def test_what_hangs_from_the_top_is_left_out_where_nobody_knows_how_high_that_is() -> None:
    found = shown(DIP, AIM, EXPOSED, BASS, more=SCALE + "frets_clear: 12, ")
    assert found is not None
    assert "dip" not in {one.name for one in found.heights}
    said = " ".join(found.remarks)
    assert "thickness of the bridge was not read: dip between bridge and soundhole." in said
    assert "fret 12, where the body begins." in said
    assert "disagree" not in said


def test_a_reading_under_another_load_is_left_out() -> None:
    other = "{check: belly-unloaded, value: 2 mm, setup: {strings: slack}}"
    found = shown(AIM, EXPOSED, BASS, THICK, other)
    assert found is not None
    assert {one.name for one in found.heights} == {"action", "projection", "exposure", "thickness"}
