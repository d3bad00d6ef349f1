"""Causes with their reasons, what is open, what comes next, what is held back, grades, sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from report.visits import HEAD, HOT_CAR, UNREAD, Reported

if TYPE_CHECKING:
    from tailblock.report.model import Cause, Report


def _cause(report: Report, name: str) -> Cause:
    return next(cause for cause in report.causes.argued if cause.id == name)


def test_a_cause_is_argued_with_readings_for_and_against(hot_car: Report) -> None:
    cause = _cause(hot_car, "bridge-lifting")
    best = cause.in_favour[0]
    assert best.check == "Feel for an open seam under the bridge"
    assert best.reading.replace("\N{NO-BREAK SPACE}", " ") == (
        "6.00 mm (15/64 in) ± 0.52 mm (.020 in): The seam is open far in"
    )
    assert best.decibans > 0
    assert cause.sure == "almost certain"
    assert cause.brought_about_by == ("Stood in strong heat",)
    assert all(weight.decibans < 0 for weight in _cause(hot_car, "top-hump").against)


def test_readings_stand_in_the_order_of_their_weight(hot_car: Report) -> None:
    for cause in hot_car.causes.argued:
        for side in (cause.in_favour, cause.against):
            weights = [abs(weight.decibans) for weight in side]
            assert weights == sorted(weights, reverse=True)


def test_the_argued_and_the_listed_and_the_rest_are_all_there_is(hot_car: Report) -> None:
    argued = {cause.name for cause in hot_car.causes.argued}
    others = {cause.name for cause in hot_car.causes.others}
    assert not argued & others
    named = len(argued) + len(others)
    named += len(hot_car.causes.unmoved) + len(hot_car.causes.spoken_against)
    below = int(hot_car.causes.below.split(": ")[1].removesuffix(" more."))
    assert named + below == 8  # the checklist's faults


def test_an_open_danger_is_argued_though_no_reading_raised_it(unread: Report) -> None:
    cause = _cause(unread, "bridge-lifting")
    assert cause.probability == pytest.approx(cause.prior)
    assert cause.in_favour == cause.against == ()
    assert cause.under_tension == "string tension can finish the break"


def test_a_check_that_adds_load_is_not_recommended_while_it_is_held(hot_car: Report) -> None:
    assert _cause(hot_car, "neck-angle-lost").settles == (
        "Ease the heel (held back now: it needs more tension or load than is safe yet)"
    )


def test_what_is_open_says_what_would_settle_it_and_when(hot_car: Report) -> None:
    (entry,) = hot_car.open
    assert entry.name == "Neck angle lost"
    assert entry.settled_by.startswith("Ease the heel (held back now")


def test_the_next_checks_name_the_way_there_the_trap_and_the_safety_note(unread: Report) -> None:
    feeler = next(c for c in unread.next_checks if c.check.startswith("Feel for an open seam"))
    assert (feeler.minutes, feeler.setup_minutes, feeler.state) == (2, 3, "strings slack")
    assert feeler.trap.startswith("A bead of old finish")
    (number,) = feeler.cautions
    note = unread.safety.notes[number - 1]
    assert note.title == "Strings under tension"
    assert feeler.check in note.applies_to


def test_held_back_moves_name_the_fault_and_what_could_clear_it(
    hot_car: Report, unread: Report
) -> None:
    (held,) = hot_car.held  # both for the same reason
    assert held.moves == ("Bringing it to: strings at pitch", "Ease the heel")
    assert hot_car.held[0].because == ("Bridge glue joint opening",)
    assert "cannot clear" in hot_car.held[0].clear_with
    assert "Shine a light along the bridge edge" in unread.held[0].clear_with


def test_every_part_has_both_grades_and_the_rule_that_fired(hot_car: Report) -> None:
    grades = {part.part: part for part in hot_car.grades}
    assert list(grades) == ["Top", "Bridge", "Saddle", "Frets", "Neck joint"]
    bridge = grades["Bridge"]
    assert (bridge.condition.value, bridge.condition.word) == (3, "failed")
    assert (bridge.urgency.value, bridge.urgency.word) == (3, "before it is strung or played")
    assert bridge.condition.because == ("Bridge glue joint opening",)
    assert all(part.condition.rule and part.urgency.rule for part in hot_car.grades)


def test_sources_say_what_they_were_used_for_and_whether_they_were_read(hot_car: Report) -> None:
    seen = {source.citation: (source.seen, source.used_for) for source in hot_car.sources}
    assert seen["An invented bench book for these tests, chapter 3"] == (
        "read", "1 check and 1 cause",
    )  # fmt: skip
    assert seen["From memory"][0] == "from memory, not looked up again"
    assert seen["Common practice in the trade, no source"][0] == "common practice"


def test_what_was_not_looked_at_is_listed(hot_car: Report, unread: Report) -> None:
    assert "Look at the saddle from above: tried, without an answer" in hot_car.not_looked_at
    assert "Bridge: nothing of it was looked at" in unread.not_looked_at
    assert any("closed joints" in line for line in hot_car.not_looked_at)


def test_the_heading_says_which_instrument_knowledge_and_file(hot_car: Report) -> None:
    head = hot_car.heading
    assert (head.job, head.player, head.by, head.day) == (
        "2031-014", "Ada Example", "R. Bench", "2031-03-02",
    )  # fmt: skip
    assert head.visit == "Arrival, visit 1 of 1"
    assert (head.checklist, head.checklist_version) == ("A small bench checklist (bench)", "1.2.0")
    assert {len(head.checklist_digest), len(head.file_digest)} == {64}
    facts = {fact.label: fact.text for fact in (*head.facts, *head.state)}
    assert facts["Bracing"] == "x"
    assert facts["Scale length"] == "632.0 mm (24 56.5/64 in)"
    assert facts["Came in with"] == "strings at pitch"
    assert facts["Now"] == "strings slack"
    assert facts["Humidity in the room"] == "43 %"


def test_the_players_contact_is_nowhere_in_the_report(hot_car: Report) -> None:
    assert "ada@example.org" not in repr(hot_car)


def test_the_same_examination_gives_the_same_report(reported: Reported, hot_car: Report) -> None:
    assert reported(HOT_CAR) == hot_car


def test_what_no_unread_check_shows_is_left_to_time(reported: Reported) -> None:
    pulled = """
      - stage: arrival
        date: 2031-03-02
        setup: {strings: at-pitch}
        readings:
          - {check: bridge-feeler, value: 0 mm, setup: {strings: slack}}
          - {check: bridge-light, value: none}
          - {check: heat-story, value: warm, setup: {strings: at-pitch}}
          - {check: at-pitch-now, value: at-pitch}
          - {check: rule-true, value: "true"}
          - {check: room-heat, value: 21 C}
          - {check: action-12-bass, value: 3.2 mm}
          - {check: belly-across, value: 3.2 mm}
          - {check: saddle-exposure, value: 4 mm}
          - {check: pin-look, value: level}
          - {check: fret-look, value: round}
          - {check: new-strings, value: old}
          - {check: saddle-look, value: square}
          - {check: belly-slack, value: 2.6 mm, setup: {strings: slack}}
          - {check: heel-pull, value: shut, setup: {strings: at-pitch}}
    """
    report = reported(pulled)
    entry = next(entry for entry in report.open if entry.name == "Neck angle lost")
    assert entry.settled_by.startswith("nothing that is still unread shows it")
    (line, *_) = report.first_page.unknown
    assert line.startswith("Whether the neck has tilted forward over the years. No look that is")


def test_light_readings_are_counted_and_not_listed(hot_car: Report) -> None:
    for cause in hot_car.causes.argued:
        assert all(abs(w.decibans) >= 0.5 for w in (*cause.in_favour, *cause.against))
    assert any(cause.lighter for cause in hot_car.causes.argued)


def test_parts_that_this_instrument_does_not_have_are_not_missed(reported: Reported) -> None:
    other = HEAD.replace("bridge: pin", "bridge: pinless")
    assert "Pins: nothing of it was looked at" in reported(UNREAD).not_looked_at
    assert "Pins: nothing of it was looked at" not in reported(UNREAD, other).not_looked_at


def test_an_instrument_of_unknown_scale_says_nothing_of_it(reported: Reported) -> None:
    facts = reported(UNREAD, HEAD.replace("  scale_length: 632 mm\n", "")).heading.facts
    assert "Scale length" not in [fact.label for fact in facts]


def test_the_ranking_is_said_to_be_steady_or_to_lean_on_words(
    hot_car: Report, unread: Report
) -> None:
    kind = "is steady" if hot_car.causes.steady else "leans on rules of thumb"
    assert hot_car.causes.steadiness.startswith(f"The ranking {kind}")
    assert unread.causes.steadiness.replace("\N{NO-BREAK SPACE}", " ") == (
        "That no fault leads is steady: with every word of the checklist taken as the range that "
        "it is, none leads in 100 % of 200 trials."
    )
    for cause in hot_car.causes.argued:
        assert cause.low is not None
        assert cause.high is not None
        assert cause.low <= cause.high
        assert cause.low - 0.02 <= cause.probability <= cause.high + 0.02
