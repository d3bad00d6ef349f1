"""Which faults together, and what surprises, as the bench reads it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from report.visits import HOT_CAR, SOUND, Reported
from tailblock.inspection import store
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from tailblock.report.model import Report

# One fault that two looks hardly miss; `tests/advice/test_surprise.py` has the numbers by hand.
STRANGE = """
tailblock: 1
id: strange
title: Two looks at one hump
version: 1.0.0
parts: [{id: top, name: Top}]
setups: {states: {strings: ["off", slack, at-pitch]}}
faults:
  - {id: hump, part: top, name: Hump, plain: It rises., alone: 0.01, harm: serious, pace: months,
     under_tension: watch, no_remedy: Nobody can.}
checks:
  - {id: look, part: top, title: Look along it, ask: A?, how: Look., minutes: 1,
     choices: [{level: flat, text: Flat}, {level: high, text: It stands high}],
     shows: [{fault: hump, at_least: {high: 0.98}}], otherwise: {high: 0.001}}
  - {id: feel, part: top, title: Feel over it, ask: A?, how: Feel., minutes: 1,
     choices: [{level: flat, text: Flat}, {level: high, text: It stands high}],
     shows: [{fault: hump, at_least: {high: 0.98}}], otherwise: {high: 0.001}}
"""
CONTRADICTED = """
tailblock: 1
job: "2031-014"
checklist: strange
instrument: {description: An invented guitar}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: slack}
    readings: [{check: look, value: high}, {check: feel, value: flat}]
"""


@pytest.fixture(scope="module")
def contradicted(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """Return the report on a guitar of which one look says what the other denies."""
    folder = tmp_path_factory.mktemp("strange")
    (folder / "checklist.yaml").write_text(STRANGE, encoding="utf-8")
    checklist = load(folder).checklist
    assert checklist is not None
    inspection = store.from_bytes(CONTRADICTED.encode(), Path("job.yaml"), lambda _: checklist)
    return build(examine(checklist, inspection))


def test_the_leading_explanation_names_faults_and_what_each_covers(hot_car: Report) -> None:
    leading = hot_car.together.leading
    assert leading is not None
    covers = {entry.fault: entry.readings for entry in leading.faults}
    assert "Feel for an open seam under the bridge" in covers["Bridge glue joint opening"]
    told = [reading for readings in covers.values() for reading in readings]
    assert len(told) == len(set(told))  # each reading has one cover at most
    assert not set(told) & set(leading.uncovered)
    assert set(covers) <= set(hot_car.together.asked)


def test_other_explanations_are_told_by_what_differs(hot_car: Report) -> None:
    together = hot_car.together
    assert together.leading is not None
    named = {entry.fault for entry in together.leading.faults}
    chances = [together.leading.probability, *(other.probability for other in together.others)]
    assert chances == sorted(chances, reverse=True)
    assert sum(chances) <= 1.0 + 1e-12
    for other in together.others:
        assert other.added or other.left_out
        assert not set(other.added) & named
        assert set(other.left_out) <= named
        assert set(other.added) <= set(together.asked)


def test_the_leading_chance_is_at_most_that_of_each_of_its_faults(hot_car: Report) -> None:
    leading = hot_car.together.leading
    assert leading is not None
    argued = {cause.name: cause.probability for cause in hot_car.causes.argued}
    for entry in leading.faults:
        if entry.fault in argued:
            assert leading.probability <= argued[entry.fault] + 1e-12


def test_a_sound_guitar_has_nothing_to_explain_and_is_known(
    sound: Report, reported: Reported
) -> None:
    off_normal = SOUND.replace(
        "{check: new-strings, value: new}", "{check: pin-look, value: level}"
    )
    for report in (sound, reported(off_normal)):
        assert report.together.surprising == ()
        assert "within what the checklist knows" in report.together.outside
    plain = reported(off_normal).together
    assert plain.leading is None
    assert plain.method == "No reading is off normal, so there is nothing to explain."


def test_a_contradicted_reading_is_named_with_what_it_said(contradicted: Report) -> None:
    (line,) = contradicted.together.surprising
    assert line.replace("\N{NO-BREAK SPACE}", " ") == (
        "Look along it (It stands high): 9.7 bits, a chance of under 1 % by all other readings"
    )
    assert "Surprising, so read them again:" in to_markdown(contradicted)


def test_an_instrument_that_the_checklist_does_not_know_is_said_to_be_outside(
    contradicted: Report,
) -> None:
    outside = contradicted.together.outside.replace("\N{NO-BREAK SPACE}", " ")
    assert outside.startswith("Outside what the checklist knows: of 999 instruments drawn from it")
    assert "under 1 %" in outside or "0 %" in outside
    assert outside in to_markdown(contradicted).replace("\N{NO-BREAK SPACE}", " ")


def test_nothing_read_is_neither_explained_nor_placed(unread: Report) -> None:
    assert unread.together.leading is None
    assert unread.together.outside == ""


@pytest.mark.parametrize("visits", [HOT_CAR, SOUND])
def test_the_same_report_on_any_day(reported: Reported, visits: str) -> None:
    assert reported(visits).together == reported(visits).together
