"""The measurements in the player's copy: few, abnormal, weighty, each once, beside their cause."""

from __future__ import annotations

from typing import TYPE_CHECKING

from report.pages import read
from tailblock.report.players_readings import MOST
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from tailblock.report.model import PlainMeasured, Report


def shown(report: Report) -> list[PlainMeasured]:
    return [cause.measured for cause in report.players_copy.wrong if cause.measured]


def test_what_speaks_for_a_cause_is_shown_beside_it_once(hot_car: Report) -> None:
    found = shown(hot_car)
    assert 0 < len(found) <= MOST
    assert len({one.check for one in found}) == len(found)


def test_it_is_off_normal_and_the_bench_copy_counts_it_for_that_cause(hot_car: Report) -> None:
    argued = {cause.plain: cause for cause in hot_car.causes.argued}
    for plain in hot_car.players_copy.wrong:
        cause = argued[plain.plain]
        if plain.measured:
            low, high = plain.measured.gauge.normal
            value = plain.measured.gauge.value
            assert (low is not None and value < low) or (high is not None and value > high)
            (weight,) = (w for w in cause.in_favour if w.check == plain.measured.check)
            assert weight.decibans >= 2


def test_it_is_told_in_a_sentence_and_drawn(hot_car: Report) -> None:
    page = read(to_html(hot_car, copy="player"))
    kinds = [tag.attributes["class"] for tag in page.named("svg")]
    drawn = [kind for kind in kinds if kind in {"picture key", "picture gauge"}]
    assert drawn == ["picture key", *["picture gauge"] * len(shown(hot_car))]
    markdown = to_markdown(hot_car, copy="player")
    for one in shown(hot_car):
        assert one.text.startswith("Measured: ")
        assert page.text.count(one.text) == 2  # once to read, once for those who do not see it
        assert one.text.split(",")[0] in markdown


def test_there_is_no_key_without_a_gauge(sound: Report) -> None:
    assert shown(sound) == []
    kinds = {tag.attributes["class"] for tag in read(to_html(sound, copy="player")).named("svg")}
    assert not kinds & {"picture key", "picture gauge"}
