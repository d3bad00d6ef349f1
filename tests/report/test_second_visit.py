"""A second visit as it is shown: each measured pair is drawn on its limits."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from report.pages import read
from report.paper import alternatives
from report.visits import HOT_CAR
from tailblock.report.pictures.change import MARKS, change_picture
from tailblock.report.to_html import to_html
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.report.model import Comparison, Report

AGAIN = """
  - stage: follow-up
    date: 2031-03-30
    setup: {strings: at-pitch}
    readings:
      - {check: at-pitch-now, value: at-pitch}
      - {check: action-12-bass, value: 7/64 in}
      - {check: belly-across, value: 4.4 mm}
      - {check: fret-look, value: round}
"""


@pytest.fixture(scope="module")
def twice(reported: Reported) -> Report:
    return reported(HOT_CAR + AGAIN)


@pytest.fixture(scope="module")
def two(twice: Report) -> Comparison:
    assert twice.comparison is not None
    return twice.comparison


def test_both_gauges_of_a_pair_have_the_same_limits_and_its_values(two: Comparison) -> None:
    measured = [one for one in two.readings if one.gauges]
    assert measured
    for one in measured:
        assert one.gauges is not None
        before, after = one.gauges
        assert (before.value, after.value) == (one.value_before, one.value_after)
        assert (before.edges, before.zones) == (after.edges, after.zones)


def test_answers_in_words_have_no_gauges(two: Comparison) -> None:
    words = [one for one in two.readings if one.value_before is None]
    assert words
    assert all(one.gauges is None for one in words)


def test_every_measured_pair_is_drawn_on_the_page(twice: Report, two: Comparison) -> None:
    page = read(to_html(twice))
    drawn = [tag for tag in page.named("svg") if tag.attributes["class"] == "picture change"]
    assert len(drawn) == sum(one.gauges is not None for one in two.readings)
    assert MARKS in page.text


def test_every_measured_pair_is_drawn_on_paper(twice: Report, two: Comparison) -> None:
    said = alternatives(to_pdf(twice))
    pictures = [picture for one in two.readings if (picture := change_picture(one))]
    assert pictures
    assert {f"{picture.title}. {picture.text}" for picture in pictures} <= set(said)
