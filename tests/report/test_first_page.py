"""The player's page: five questions answered in plain words, for an instrument in each state."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from demos import DEMOS, demo_report, examined_demo
from report.visits import HEAD, HOT_CAR, SOUND, Reported
from tailblock.advice import rules
from tailblock.report.model import Report
from tailblock.report.sentences import BECAUSE
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from pathlib import Path

STATES = ["hot_car", "sound", "unread"]


@pytest.fixture(params=STATES)
def any_state(request: pytest.FixtureRequest) -> Report:
    report = request.getfixturevalue(request.param)
    assert isinstance(report, Report)
    return report


def test_what_is_wrong_and_how_sure_is_said_in_the_players_words(hot_car: Report) -> None:
    first, second = hot_car.first_page.verdict
    assert first.startswith("Almost certainly, the bridge is starting to come off the top")
    assert "failed" in second
    assert "before it is strung or played" in second
    assert hot_car.first_page.matters[0].sure == "almost certain"
    assert hot_car.first_page.matters[0].left_alone.startswith("It comes off at once")


def test_an_instrument_that_must_not_be_strung_says_so(hot_car: Report) -> None:
    stringing = hot_car.first_page.stringing
    assert stringing.answer == "no"
    assert stringing.headline == "No. Do not bring it to pitch."
    assert "the bridge is starting to come off the top" in stringing.why


def test_the_opening_sentence_names_what_the_list_names_first(hot_car: Report) -> None:
    page = hot_car.first_page
    places = [page.verdict[0].find(matter.plain[4:].rstrip(".")) for matter in page.matters[:2]]
    assert -1 not in places
    assert places == sorted(places)


def test_what_is_only_likely_is_said_to_be_open(any_state: Report) -> None:
    for matter in any_state.first_page.matters:
        assert matter.sure.endswith("not settled yet") == (matter.probability < 0.80)


def test_every_rule_of_a_grade_has_words_for_the_player() -> None:
    written = {rule.words for rule in (*rules.CONDITION, *rules.URGENCY)}
    written |= {rules.SOUND, rules.NOT_DETERMINED, rules.WATCHED, rules.NO_URGENCY}
    assert set(BECAUSE) == written
    assert not any(digit in words for words in BECAUSE.values() for digit in "0123456789")


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_what_the_bench_looks_at_first_is_neither_a_question_nor_a_gate(demo: Path) -> None:
    steps = {entry.check: entry.step for entry in examined_demo(demo.stem).advice.advice}
    checks = examined_demo(demo.stem).checklist.checks
    (line,) = [
        line
        for line in demo_report(demo.stem).first_page.first
        if line.startswith(("At the bench, look first: ", "To know more, the next look"))
    ]
    named = line.partition(": ")[2].rpartition(" (")[0]
    (check,) = [id_ for id_ in steps if checks[id_].title.lower() == named.lower()]
    assert checks[check].asked == "bench"
    assert steps[check] != "gate"


def test_mould_is_spoken_of_only_for_the_case_that_there_is_some(any_state: Report) -> None:
    (line,) = [line for line in any_state.first_page.not_at_home if "sniff" in line]
    assert line.startswith("If it smells musty")


def test_what_must_be_done_first_is_in_working_order(hot_car: Report) -> None:
    first, *then = hot_car.first_page.first
    assert first == "Leave the strings slack."
    assert any("glued on again" in line for line in then)


def test_what_is_not_known_names_the_look_that_would_tell(hot_car: Report) -> None:
    unknown = hot_car.first_page.unknown
    assert any(
        "the neck has tilted forward" in line and "ease the heel" in line for line in unknown
    )


def test_nothing_wrong_is_a_verdict_of_its_own(sound: Report) -> None:
    first, second = sound.first_page.verdict
    assert first == "Nothing was found that needs mending; likely, new strings are still settling."
    assert "within what this kind of instrument does" in second
    assert sound.first_page.stringing.answer == "yes"
    assert sound.first_page.matters[0].id == "strings-settling"  # the verdict's own reason
    assert sound.first_page.first[0] == "Nothing has to be done first."
    assert not any(offer.works for offer in sound.plan.offers)


def test_an_instrument_that_nobody_looked_at_is_not_called_sound(unread: Report) -> None:
    page = unread.first_page
    assert page.verdict[0].startswith("Nothing has been looked at yet: what follows is what is ")
    assert page.condition.value is None
    assert page.condition.word == "not determined"
    assert "could not be determined" in page.verdict[1]
    assert page.undetermined == "5 of 5 parts not judged yet"
    assert any(
        line.startswith("Nobody has looked yet at 5 of 5 parts: top") for line in page.unknown
    )
    assert page.stringing.answer == "not-yet"
    assert "light along the bridge edge" in page.stringing.clear_with


def test_at_pitch_with_a_danger_open_the_first_thing_is_to_slacken(unread: Report) -> None:
    assert unread.first_page.stringing.headline.startswith("Better not. It stands at pitch now")
    assert unread.first_page.first[0] == "Slacken the strings."


def test_at_pitch_with_a_danger_likely_it_is_slackened_today(reported: Reported) -> None:
    looks = """
      - stage: arrival
        date: 2031-03-02
        setup: {strings: at-pitch}
        readings:
          - {check: heat-story, value: hot}
          - {check: bridge-light, value: marked}
    """
    page = reported(looks).first_page
    assert page.urgency.value == 4
    assert page.stringing.headline.endswith("slacken the strings.")
    assert page.first[0].startswith("Slacken the strings today.")
    assert page.verdict[1].endswith("the strings should be slackened today.")


@pytest.mark.parametrize(
    "word", ["solvent", "heat", "wetting", "bleach", "musty", "sniff", "brush"]
)
def test_what_not_to_do_at_home_is_always_there(any_state: Report, word: str) -> None:
    assert any(word in line.lower() for line in any_state.first_page.not_at_home)


def test_the_checklists_own_words_come_before_ours(any_state: Report) -> None:
    lines = any_state.first_page.not_at_home
    assert "No solvent, alcohol or polish on any crack or seam." in lines  # of its caution
    assert "No bleach on it, in it or in the case." in lines  # it has no caution for bleach


def test_the_player_is_told_not_to_tune_up_only_where_it_matters(
    hot_car: Report, sound: Report
) -> None:
    told = [
        any("tune it up" in line for line in r.first_page.not_at_home) for r in (hot_car, sound)
    ]
    assert told == [True, False]


def test_a_person_who_goes_on_is_named_with_the_reason(reported: Reported) -> None:
    accepted = "    accepted: [{fault: bridge-lifting, by: A. Example, why: one last concert}]\n"
    report = reported(HOT_CAR.replace("    readings:", f"{accepted}    readings:"))
    assert report.first_page.stringing.accepted == (
        "A. Example goes on all the same (Bridge glue joint opening): one last concert",
    )
    assert report.first_page.stringing.answer == "no"  # their decision moves no probability
    assert [(entry.by, entry.why) for entry in report.accepted] == [
        ("A. Example", "one last concert")
    ]
    assert all(held.accepted for held in report.held)


def test_a_reason_of_any_length_leaves_room_on_the_page(reported: Reported) -> None:
    why = "because " * 200
    accepted = f"    accepted: [{{fault: bridge-lifting, by: A. Example, why: '{why}'}}]\n"
    report = reported(HOT_CAR.replace("    readings:", f"{accepted}    readings:"))
    (line,) = report.first_page.stringing.accepted
    assert len(line) < 260
    assert report.accepted[0].why == why.strip()


def test_traits_that_nobody_knows_are_among_the_unknown(reported: Reported) -> None:
    report = reported(SOUND, HEAD.replace("bracing: x", "bracing: unknown"))
    assert "About the instrument: bracing." in report.first_page.unknown


@pytest.mark.parametrize(
    "question",
    [
        "What is wrong, and how sure is that?",
        "May it be strung and brought to pitch?",
        "What must be done first?",
        "What is not known yet?",
        "What not to do at home",
    ],
)
def test_each_question_is_a_heading_on_page_one(any_state: Report, question: str) -> None:
    page_one = to_html(any_state).split("</header>")[0]
    assert f"<h2>{question}</h2>" in page_one
