"""What changed since an earlier visit, in the player's copy: plain words, nothing of the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from report.pages import read, words
from report.visits import HOT_CAR, Reported
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from tailblock.report.model import PlainChanges, Report

BACK = """
  - stage: arrival
    date: 2031-09-02
    climate: {temperature: 21 C, humidity: 43 %}
    setup: {strings: at-pitch}
    work: [{remedy: bridge-reglue}]
    readings:
      - {check: at-pitch-now, value: at-pitch}
      - {check: action-12-bass, value: 4.4 mm}
      - {check: bridge-light, value: none, setup: {strings: slack}}
      - {check: bridge-feeler, value: 0 mm, setup: {strings: slack}}
"""


@pytest.fixture(scope="module")
def back(reported: Reported) -> Report:
    return reported(HOT_CAR + BACK)


@pytest.fixture(scope="module")
def changes(back: Report) -> PlainChanges:
    assert back.players_copy.changes is not None
    return back.players_copy.changes


def test_a_first_visit_has_none(hot_car: Report) -> None:
    assert hot_car.players_copy.changes is None
    assert "What has changed" not in read(to_html(hot_car, copy="player")).text


def test_the_two_visits_are_named(changes: PlainChanges) -> None:
    assert changes.since.startswith("Visit 1 (")
    assert "2031-03-02" in changes.since
    assert "2031-09-02" in changes.since


def test_a_fault_that_moved_is_told_in_the_players_words(back: Report) -> None:
    """The bridge was glued: what the bench copy says by its name, this copy says plainly."""
    assert back.comparison is not None
    assert back.players_copy.changes is not None
    told = back.players_copy.changes.said
    for fault in back.comparison.faults:
        assert not any(fault.name in line for line in told)
    assert len([line for line in told if " then" in line and " now" in line]) == len(
        back.comparison.faults
    )


def test_readings_are_counted_and_named_by_their_part(changes: PlainChanges) -> None:
    (counted,) = [line for line in changes.said if line.startswith("Of what was looked at")]
    assert "worse" in counted
    assert any(line.startswith("Worse than then: ") for line in changes.said)


def test_when_to_look_again_is_said_once_a_day_and_matter(changes: PlainChanges) -> None:
    assert len(set(changes.again)) == len(changes.again)


def test_every_form_says_all_of_it(back: Report, changes: PlainChanges) -> None:
    for text in (read(to_html(back, copy="player")).text, to_markdown(back, copy="player")):
        shown = words(text)
        assert all(words(line) in shown for line in (changes.since, *changes.said, *changes.again))
