"""What the drawing of the instrument is told: the traits, the numbers, what nobody wrote down."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.inspection import store
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.pictures.instrument.places import WHOLE
from tailblock.report.portrait import portrait
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown
from tailblock.report.wording import WHERE

if TYPE_CHECKING:
    from tailblock.report.model import Portrait, Report

# What is written of the instrument, and what is drawn.
TRAITS = {
    "flat-top": (
        "{strings: steel, bridge: pin}",
        {"strings": "steel", "bracing": "", "head": "solid", "frets_clear": 14, "guard": False},
    ),
    "flat-top slotted": (
        "{strings: steel, bridge: floating, bracing: ladder, head: slotted, guard: on-wood}",
        {"bridge": "floating", "bracing": "ladder", "head": "slotted", "guard": True},
    ),
    "flat-top pickup": (
        "{strings: twelve, bridge: pinless, bracing: x, pickup: soundhole, guard: none}",
        {"strings": "twelve", "pickup": "soundhole", "guard": False},
    ),
    "twelve-string": (
        "{strings: steel, bridge: pin, bracing: x}",  # with six of its twelve strings
        {"strings": "twelve", "frets_clear": 14},
    ),
    "nylon-string": (
        "{strings: gut, bridge: pinless, tuners: pegs, bracing: fan, plate-wood: none}",
        {
            "strings": "nylon",
            "tuners": "pegs",
            "head": "slotted",
            "frets_clear": 12,
            "plate": False,
        },
    ),
}


def drawn(name: str, traits: str, more: str = "", faults: tuple[str, ...] = ()) -> Portrait:
    checklist = shipped(name.partition(" ")[0])
    text = (
        f"tailblock: 1\njob: a\nchecklist: {checklist.id}\n"
        f"instrument: {{description: a, traits: {traits}{more}}}\n"
        "visits: [{stage: arrival, date: 2031-03-02}]\n"
    )
    inspection = store.from_bytes(text.encode(), Path("a.yaml"), lambda _: checklist)
    found = portrait(examine(checklist, inspection), faults or ("neck-angle-lost",))
    assert found is not None
    return found


@pytest.mark.parametrize("name", TRAITS)
def test_it_is_drawn_by_its_traits(name: str) -> None:
    traits, expected = TRAITS[name]
    found = drawn(name, traits)
    assert {field: getattr(found, field) for field in expected} == expected


def test_what_nobody_wrote_down_is_said() -> None:
    said = " ".join(drawn("flat-top", "{strings: steel, bridge: pin}").taken)
    for words in ("648.0 mm", "14 frets clear", "a head without slots", "the bars under the top"):
        assert words in said
    written = "{strings: steel, bridge: pin, bracing: x, head: scarf, guard: none}"
    measured = drawn("flat-top", written, ", scale_length: 632 mm, frets_clear: 12")
    assert (measured.scale_length, measured.frets_clear) == (632.0, 12)
    assert len(measured.taken) == 1


def test_a_cause_without_a_place_keeps_its_number_and_says_why() -> None:
    faults = ("climate-dry", "bridge-lifting")
    found = drawn("flat-top", "{strings: steel, bridge: pin}", faults=faults)
    assert [(mark.number, mark.id, mark.unplaced) for mark in found.marks] == [
        (1, "climate-dry", WHOLE),
        (2, "bridge-lifting", ""),
    ]


def test_the_numbers_are_those_of_page_one_and_of_the_list_of_causes(hot_car: Report) -> None:
    assert hot_car.portrait is not None
    marks = hot_car.portrait.marks
    matters = hot_car.first_page.matters
    assert [mark.id for mark in marks[: len(matters)]] == [matter.id for matter in matters]
    assert [mark.number for mark in marks] == list(range(1, len(marks) + 1))
    assert [cause.id for cause in hot_car.players_copy.wrong] == [mark.id for mark in marks]
    for text in (to_html(hot_car), to_html(hot_car, copy="player")):
        for mark in marks:
            if mark.id in {cause.id for cause in hot_car.causes.argued}:
                assert f"<h3>{mark.number}. {mark.plain}</h3>" in text
    for mark in marks:
        assert f"\n{mark.number}. {mark.plain}" in to_markdown(hot_car, copy="player")


def test_an_instrument_of_another_family_has_no_drawing(tmp_path: Path) -> None:
    text = (Path(__file__).parents[1] / "examples/good/smallest.yaml").read_bytes()
    (tmp_path / "checklist.yaml").write_bytes(text)
    checklist = load(tmp_path).checklist
    assert checklist is not None
    written = (
        f"tailblock: 1\njob: a\nchecklist: {checklist.id}\ninstrument: {{description: a}}\n"
        "visits: [{stage: arrival, date: 2031-03-02}]\n"
    )
    inspection = store.from_bytes(written.encode(), Path("a.yaml"), lambda _: checklist)
    report = build(examine(checklist, inspection))
    assert report.portrait is None
    assert WHERE not in to_html(report)
