"""The player's copy and the bench copy: one report, two selections from it."""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from typing import TYPE_CHECKING

import pytest

from report.pages import read, texts_in, words
from tailblock.report.glossary import glossary
from tailblock.report.model import Labelled, Report
from tailblock.report.players_copy import texts_of
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.wording import CHANCES, percent

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

STATES = ["hot_car", "sound", "unread"]
FOR_THE_BENCH = ("decibans", "±", "digest", "straightedge", "prior", "strength")
TEXTS: list[Callable[[Report], str]] = [
    lambda report: read(to_html(report, copy="player")).text,
    lambda report: to_markdown(report, copy="player"),
]


@pytest.fixture(params=STATES)
def any_state(request: pytest.FixtureRequest) -> Report:
    report: Report = request.getfixturevalue(request.param)
    return report


@pytest.mark.parametrize("shown", TEXTS, ids=["html", "markdown"])
def test_the_players_copy_has_no_word_that_only_the_bench_knows(
    any_state: Report, shown: Callable[[Report], str]
) -> None:
    text = shown(any_state).lower()
    assert [word for word in FOR_THE_BENCH if word in text] == []
    only_bench = {cause.name for cause in any_state.causes.argued if cause.name != cause.plain}
    assert [name for name in only_bench if name.lower() in text] == []


@pytest.mark.parametrize("shown", TEXTS, ids=["html", "markdown"])
def test_the_players_copy_says_all_that_is_in_it(
    any_state: Report, shown: Callable[[Report], str]
) -> None:
    text = words(shown(any_state))
    said = texts_in(asdict(any_state.players_copy), frozenset({"gauge", "id"}))
    told = [words(one).removesuffix(".") for one in said]
    assert [one for one in told if one not in text] == []


def test_no_probability_stands_without_its_phrase(any_state: Report) -> None:
    text = " ".join(read(to_html(any_state, copy="player")).text.split())
    phrases = "|".join(phrase for _, phrase, _ in CHANCES)
    near_certain = re.escape(any_state.first_page.also)
    said = re.sub(near_certain, "", text)  # that line begins with its phrase, once for all
    for found in re.finditer(r"(?<!to )\b\d+ ?%", said.replace("\N{NO-BREAK SPACE}", " ")):
        before = said[max(0, found.start() - 45) : found.start()].replace("\N{NO-BREAK SPACE}", " ")
        humidity = "45 to 55" in said[found.start() - 6 : found.end() + 8]
        assert humidity or re.search(phrases, before, re.IGNORECASE), before


def test_what_is_wrong_stands_in_both_copies_with_the_same_number(hot_car: Report) -> None:
    bench, player = to_markdown(hot_car), to_markdown(hot_car, copy="player")
    assert len(hot_car.players_copy.wrong) == len(hot_car.causes.argued)
    for cause in hot_car.causes.argued:
        number = percent(cause.probability).replace("\N{NO-BREAK SPACE}", " ")
        assert number in bench
        assert number in player


def test_the_bench_copy_is_the_whole_report_and_the_players_json_a_part_of_it(
    hot_car: Report,
) -> None:
    bench, player = json.loads(to_json(hot_car)), json.loads(to_json(hot_car, copy="player"))
    assert player["players_copy"]["keep"]
    assert "causes" not in player
    assert {name: bench[name] for name in player} == player


def test_how_to_keep_it_says_the_humidity_and_not_to_tune_it(hot_car: Report) -> None:
    keep = " ".join(hot_car.players_copy.keep)
    assert "45 to 55 %" in keep
    assert "Do not tune it up" in keep
    assert "car" in keep


def test_a_word_is_explained_where_it_is_used_and_only_there(bench: Checklist) -> None:
    assert glossary(bench, ["Two saddles and a tailpiece"]) == (
        Labelled("Saddle", "the strip in the bridge that the strings rest on"),
    )
    assert glossary(bench, ["nothing of the trade, no sad dle"]) == ()


def test_every_explained_word_that_the_copy_uses_is_in_its_glossary(hot_car: Report) -> None:
    used = " ".join((*texts_of(hot_car.first_page), *texts_of(hot_car.players_copy))).lower()
    terms = {entry.label.lower() for entry in hot_car.players_copy.glossary}
    assert "saddle" in terms
    assert all(term.removesuffix("s") in used for term in terms)
