"""What a line of the person means in a walk, and what is asked next: no terminal, no file.

In: the sitting so far, the question on the screen and one line; or the advice. Out: the sitting
after it and an event for `guide` to carry out; or the next thing to ask.

What is an answer is an answer before it is a word of ours: a level named `back` can be given. Only
the beginning of a level gives way to a word of ours.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tailblock.advice.setups import satisfies
from tailblock.cli.events import (
    Answered,
    Done,
    GoOn,
    Noticed,
    Passed,
    Picture,
    Puzzled,
    Question,
    Shown,
    Stopped,
    TakenBack,
    Told,
)
from tailblock.inspection.answers import AnswerError, understand
from tailblock.knowledge.entries import UNKNOWN

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice import Advice
    from tailblock.cli.events import Event, Next, Show, Sitting
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check

# The words a person may write in the place of an answer, and what they do.
WORDS: Mapping[str, str] = {
    "unknown": "looked, and cannot say",
    "skip": "leave this check out for today",
    "back": "take the last answer of today back, and give it again",
    "why": "why this check, what it tells, and what it is mistaken for",
    "causes": "the probable causes as they stand",
    "note TEXT": "words that go with your answer",
    "photo FILE": "a photograph that goes with your answer",
    "stop": "go on another day",
    "help": "this list",
}
_SHOWN: Mapping[str, Show] = {"why": "why", "causes": "causes", "help": "help", "?": "help"}
_YES = frozenset({"yes", "y", "go on"})
_NO = frozenset({"no", "n", "stop"})


def next_question(sitting: Sitting, advice: Advice, checklist: Checklist, present: Setup) -> Next:
    """Return what to ask next.

    Parameters
    ----------
    sitting
        What was said so far today.
    advice
        What to look at next, as it stands after the last answer.
    present
        The setup the instrument is in.
    """
    again = checklist.checks[sitting.again] if sitting.again else None
    if again and satisfies(present, again.setup):
        return Question(again, present)
    left = [entry for entry in advice.advice if entry.check not in sitting.skipped]
    if not left:
        return Done("all-skipped" if advice.advice else "nothing-left")
    first = left[0]
    if advice.enough and "enough" not in sitting.past:
        return GoOn("enough", tuple(entry.check for entry in left))
    used_up = advice.budget is not None and advice.minutes_used >= advice.budget
    if (used_up or first.check in advice.beyond) and not sitting.past:
        unbought = tuple(check for check in advice.beyond if check not in sitting.skipped)
        return GoOn("minutes", unbought)
    return Question(checklist.checks[first.check], first.setup, first)


def take_answer(
    sitting: Sitting, question: Question, line: str, checklist: Checklist
) -> tuple[Sitting, Event]:
    """Return what a line means while a check is on the screen.

    Parameters
    ----------
    line
        What the person wrote: an answer, the number of a level in the list, or a word of `WORDS`.
    """
    said = " ".join(line.split())
    answer = _answer(question.check, said)
    if isinstance(answer, Answered):
        given = replace(answer, setup=question.setup, note=sitting.note, photos=sitting.photos)
        after = sitting.without_baggage()
        return replace(after, answered=(*after.answered, given.check), told=None), given
    word, _, rest = line.strip().partition(" ")
    rest = rest.strip()
    setup = _told(word.casefold(), rest.casefold(), checklist, sitting.told or question.setup)
    if setup is not None:
        after = sitting if isinstance(setup, Puzzled) else replace(sitting, told=setup.setup)
        return after, setup
    known = _word(sitting, question, word.casefold(), rest)
    return known or (sitting, Puzzled(answer))


def take_decision(sitting: Sitting, question: GoOn, line: str) -> tuple[Sitting, Event]:
    """Return what a line means while the person is asked whether to go past a limit."""
    said = " ".join(line.casefold().split())
    if said in _YES:
        past = sitting.past | {question.limit}
        return replace(sitting, past=past), Passed("Going on.")
    if said in _NO:
        return sitting, Stopped()
    if said in _SHOWN and said != "why":
        return sitting, Shown(_SHOWN[said])
    if said == "back":
        return _back(sitting)
    return sitting, Puzzled("say yes to go on, or stop")


def _answer(check: Check, said: str) -> Answered | str:
    """Return the answer that a text is in full, or what would be right."""
    if not said:
        return f"say something, or `{UNKNOWN}` if it cannot be told, or `help`"
    written = _numbered(check, said)
    try:
        answer = understand(check, written)
    except AnswerError as error:
        return str(error)
    if answer.level is not None:
        if _is_word(said) and said.casefold() != answer.level:
            return ""
        written = answer.level
    return Answered(check.id, UNKNOWN if answer.unknown else written, answer, {})


def _numbered(check: Check, said: str) -> str:
    """Return the level that stands under a number in the list shown."""
    if said.isdecimal() and 1 <= int(said) <= len(check.choices):
        return check.choices[int(said) - 1].level
    return said


def _is_word(said: str) -> bool:
    return said.casefold() in {name.partition(" ")[0] for name in WORDS} | set(_SHOWN)


def _word(
    sitting: Sitting, question: Question, word: str, rest: str
) -> tuple[Sitting, Event] | None:
    """Carry out a word of ours; None if it is none."""
    if word == "note":
        return _note(sitting, rest)
    if word == "photo":
        event = Picture(rest) if rest else Puzzled("name the file: `photo FILE`")
        return sitting, event
    if rest:
        return None
    if word in _SHOWN:
        return sitting, Shown(_SHOWN[word])
    if word == "stop":
        return sitting, Stopped()
    if word == "back":
        return _back(sitting)
    if word == "skip":
        after = sitting.without_baggage()
        lost = " What you noted goes with no answer and is not kept." if sitting.note else ""
        skipped = after.skipped | {question.check.id}
        return replace(after, skipped=skipped), Passed(f"Left out for today.{lost}")
    return None


def _note(sitting: Sitting, rest: str) -> tuple[Sitting, Event]:
    if not rest:
        return sitting, Puzzled("write the note behind it: `note TEXT`")
    note = f"{sitting.note}; {rest}" if sitting.note else rest
    return replace(sitting, note=note), Noticed("Noted; it goes with your answer.")


def _back(sitting: Sitting) -> tuple[Sitting, Event]:
    if not sitting.answered:
        said = "nothing was answered in this sitting; older answers are corrected in the file"
        return sitting, Puzzled(said)
    *before, last = sitting.answered
    after = replace(sitting.without_baggage(), answered=tuple(before), again=last)
    return replace(after, skipped=after.skipped - {last}), TakenBack(last)


def _told(
    word: str, rest: str, checklist: Checklist, present: Mapping[str, str]
) -> Told | Puzzled | None:
    """Return the setup that a line tells, None if it tells none."""
    states = checklist.setups.states.get(word)
    if states is None:
        return None
    state = "-".join(rest.split())
    if state not in states:
        return Puzzled(f"{word} can be {', '.join(states)}: `{word} {states[0]}`")
    return Told({**present, word: state})
