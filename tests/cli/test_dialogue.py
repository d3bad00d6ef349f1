"""What a line means in a walk, without a terminal and without a file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.advice import Advice, Advised
from tailblock.cli.dialogue import WORDS, next_question, take_answer, take_decision
from tailblock.cli.events import (
    Answered,
    Done,
    Event,
    GoOn,
    Noticed,
    Passed,
    Picture,
    Puzzled,
    Question,
    Shown,
    Sitting,
    Stopped,
    TakenBack,
    Told,
)

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

SLACK = {"strings": "slack"}


def say(
    line: str, small: Checklist, check: str = "bridge-light", sitting: Sitting | None = None
) -> tuple[Sitting, Event]:
    question = Question(small.checks[check], SLACK)
    return take_answer(sitting or Sitting(), question, line, small)


def advice(*checks: str, **more: Any) -> Advice:
    advised = tuple(
        Advised(check, 0.5, 1.0, 0.0, 0.5, "Because.", "gain", SLACK, 0) for check in checks
    )
    empty = Advice(advised, (), (), False, 0.0, (), 0.0, 12.0, (), ())
    return replace(empty, **more)


@pytest.mark.parametrize(
    ("check", "line", "written"),
    [
        ("bridge-light", "marked", "marked"),
        ("bridge-light", "MARKED", "marked"),
        ("bridge-light", "mar", "marked"),
        ("bridge-light", "2", "slight"),
        ("bridge-light", " unknown ", "unknown"),
        ("bridge-feeler", "6 mm", "6 mm"),
        ("bridge-feeler", "1/4", "1/4"),
        ("bridge-feeler", "2", "2"),
        ("bridge-feeler", "Unknown", "unknown"),
    ],
)
def test_an_answer_is_taken_as_it_was_said(
    check: str, line: str, written: str, small: Checklist
) -> None:
    sitting, event = say(line, small, check)
    assert isinstance(event, Answered)
    assert (event.check, event.written, event.setup) == (check, written, SLACK)
    assert sitting.answered == (check,)


@pytest.mark.parametrize(
    ("line", "event"),
    [
        ("why", Shown("why")),
        ("causes", Shown("causes")),
        ("help", Shown("help")),
        ("?", Shown("help")),
        ("stop", Stopped()),
        ("STOP", Stopped()),
        ("photo a.jpg", Picture("a.jpg")),
        ("photo two  spaces.jpg", Picture("two  spaces.jpg")),
        ("strings off", Told({"strings": "off"})),
        ("strings at pitch", Told({"strings": "at-pitch"})),
        ("skip", Passed("Left out for today.")),
        ("note wet glue", Noticed("Noted; it goes with your answer.")),
    ],
)
def test_a_word_of_ours_is_no_answer(line: str, event: Event, small: Checklist) -> None:
    assert say(line, small)[1] == event


@pytest.mark.parametrize(
    ("check", "line", "said"),
    [
        ("bridge-light", "", "say something"),
        ("bridge-light", "none slight", "is none of its answers: none, slight, marked or unknown"),
        ("bridge-light", "4", "is none of its answers"),
        ("bridge-light", "0", "is none of its answers"),
        ("bridge-feeler", "6 kg", "a length is wanted"),
        ("bridge-feeler", "6 elephants", "is not a unit"),
        ("bridge-feeler", "40 mm", "possible is from 0.00 mm (.000 in) up to 30.00 mm"),
        ("bridge-feeler", "open", "the level follows from the value"),
        ("bridge-light", "photo", "name the file"),
        ("bridge-light", "note", "write the note behind it"),
        ("bridge-light", "strings wet", "strings can be off, slack, at-pitch"),
        ("bridge-light", "back", "nothing was answered in this sitting"),
        ("bridge-light", "skip it", "is none of its answers"),
    ],
)
def test_what_is_not_understood_says_what_would_be_right(
    check: str, line: str, said: str, small: Checklist
) -> None:
    sitting, event = say(line, small, check)
    assert isinstance(event, Puzzled)
    assert said in event.said
    assert sitting == Sitting()


def test_notes_and_photographs_go_with_the_next_answer_and_no_further(small: Checklist) -> None:
    sitting, _ = say("note dry glue", small)
    sitting, _ = say("note at the back", small, sitting=sitting)
    sitting = replace(sitting, photos=("a.jpg",))
    sitting, event = say("slight", small, sitting=sitting)
    assert isinstance(event, Answered)
    assert (event.note, event.photos) == ("dry glue; at the back", ("a.jpg",))
    assert (sitting.note, sitting.photos) == ("", ())


def test_a_note_is_lost_with_the_check_that_is_skipped_and_it_says_so(small: Checklist) -> None:
    sitting, event = say("skip", small, sitting=Sitting(note="dry glue"))
    assert isinstance(event, Passed)
    assert "not kept" in event.said
    assert sitting == Sitting(skipped=frozenset({"bridge-light"}))


def test_back_takes_the_last_answer_out_and_asks_that_check_again(small: Checklist) -> None:
    sitting, _ = say("slight", small)
    sitting, event = say("back", small, "pin-look", sitting)
    assert event == TakenBack("bridge-light")
    asked = next_question(sitting, advice("pin-look"), small, SLACK)
    assert isinstance(asked, Question)
    assert asked.check.id == "bridge-light"
    sitting, _ = say("none", small, "bridge-light", sitting)
    assert sitting.answered == ("bridge-light",)
    assert sitting.again is None


def test_a_check_taken_back_waits_if_its_setup_is_gone(small: Checklist) -> None:
    sitting = Sitting(again="bridge-feeler")
    asked = next_question(sitting, advice("pin-look"), small, {"strings": "at-pitch"})
    assert isinstance(asked, Question)
    assert asked.check.id == "pin-look"


def test_a_level_that_is_called_like_a_word_of_ours_can_be_given(small: Checklist) -> None:
    check = small.checks["bridge-light"]
    levels = tuple(
        choice.model_copy(update={"level": level})
        for choice, level in zip(check.choices, ("none", "back", "stopped"), strict=True)
    )
    question = Question(check.model_copy(update={"choices": levels}), SLACK)
    _, event = take_answer(Sitting(), question, "back", small)
    assert isinstance(event, Answered)
    assert event.written == "back"
    assert take_answer(Sitting(), question, "stop", small)[1] == Stopped()


def test_what_was_skipped_is_not_asked_again(small: Checklist) -> None:
    sitting = Sitting(skipped=frozenset({"bridge-light"}))
    asked = next_question(sitting, advice("bridge-light", "pin-look"), small, SLACK)
    assert isinstance(asked, Question)
    assert asked.check.id == "pin-look"
    assert next_question(sitting, advice("bridge-light"), small, SLACK) == Done("all-skipped")
    assert next_question(sitting, advice(), small, SLACK) == Done("nothing-left")


def test_at_the_stages_minutes_the_person_decides_once(small: Checklist) -> None:
    over = advice("pin-look", "bridge-light", beyond=("pin-look", "bridge-light"))
    asked = next_question(Sitting(), over, small, SLACK)
    assert asked == GoOn("minutes", ("pin-look", "bridge-light"))
    sitting, event = take_decision(Sitting(), asked, "yes")
    assert event == Passed("Going on.")
    assert isinstance(next_question(sitting, over, small, SLACK), Question)


def test_minutes_used_up_are_used_up_even_if_nothing_lies_beyond(small: Checklist) -> None:
    used = advice("pin-look", minutes_used=12.0)
    assert next_question(Sitting(), used, small, SLACK) == GoOn("minutes", ())


def test_enough_is_asked_before_what_tells_little(small: Checklist) -> None:
    asked = next_question(Sitting(), advice("pin-look", enough=True), small, SLACK)
    assert asked == GoOn("enough", ("pin-look",))


@pytest.mark.parametrize(
    ("line", "event"),
    [
        ("no", Stopped()),
        ("stop", Stopped()),
        ("causes", Shown("causes")),
        ("help", Shown("help")),
        ("perhaps", Puzzled("say yes to go on, or stop")),
        ("", Puzzled("say yes to go on, or stop")),
        ("why", Puzzled("say yes to go on, or stop")),
    ],
)
def test_a_decision_is_yes_or_stop(line: str, event: Event) -> None:
    assert take_decision(Sitting(), GoOn("minutes", ()), line) == (Sitting(), event)


def test_an_answer_can_be_taken_back_at_the_limit_too() -> None:
    _, event = take_decision(Sitting(answered=("pin-look",)), GoOn("minutes", ()), "back")
    assert event == TakenBack("pin-look")


@pytest.mark.parametrize("word", [word for word in WORDS if " " not in word])
def test_every_word_of_the_help_is_understood(word: str, small: Checklist) -> None:
    _, event = say(word, small, sitting=Sitting(answered=("pin-look",)))
    assert not isinstance(event, Puzzled)


@given(line=st.text(max_size=60))
def test_no_line_whatever_breaks_the_talk(line: str, small: Checklist) -> None:
    question = Question(small.checks["bridge-feeler"], SLACK)
    sitting, event = take_answer(Sitting(), question, line, small)
    if isinstance(event, Puzzled):
        assert event.said
        assert sitting == Sitting()
    if isinstance(event, Answered):
        assert event.answer.unknown or event.answer.value is not None
