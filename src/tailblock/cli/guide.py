"""The guide of a walk: asks, reads a line, writes what it means, tells what it moved.

In: an open session and a screen. Out: readings, each on disk before the next question. What a line
means is decided in `dialogue`, what a question looks like in `question_screen`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tailblock.cli import events
from tailblock.cli.boundary import Interrupted
from tailblock.cli.causes import show_causes
from tailblock.cli.dialogue import next_question, take_answer, take_decision
from tailblock.cli.exactness import show_exactness
from tailblock.cli.next_check import show_enough
from tailblock.cli.phrases import answer_text, held_lines, sign_lines, slacken_lines
from tailblock.cli.question_screen import show_help, show_question, show_reason
from tailblock.cli.reading import show_moved
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session
    from tailblock.cli.teacher import Teacher


class Guide:
    """One sitting at the bench."""

    def __init__(self, screen: Screen, session: Session, teacher: Teacher | None = None) -> None:
        """Guide one person; with a `teacher` they are asked first what they would look at."""
        self._screen = screen
        self._teacher = teacher
        self._session = session
        self._sitting = events.Sitting()
        self._warned: set[str] = set()
        self._saved = 0

    def go(self) -> None:
        """Ask until there is nothing left, the person stops, or the input ends."""
        try:
            self._greet()
            while self._step():
                pass
        except KeyboardInterrupt:
            self._screen.say()
            raise Interrupted(self._farewell("Broken off")) from None
        self._screen.say(self._farewell("Stopped"))

    def _greet(self) -> None:
        session, screen = self._session, self._screen
        number = len(session.inspection.visits)
        stage = session.checklist.stages[session.visit.stage]
        screen.say(
            f"{session.inspection.job}: {session.inspection.instrument.description}", "title"
        )
        answered = len(session.visit.readings)
        so_far = f", {_count(answered, 'reading')} so far" if answered else ""
        screen.say(f"Visit {number}, {stage.name or stage.id}, {session.visit.day}{so_far}.")
        if stage.why_this_order and not answered:
            screen.say(stage.why_this_order, "quiet")
        screen.say("Answer, or write `help` for what else you can say.", "quiet")
        show_exactness(screen, session.examined)
        self._warn()

    def _warn(self) -> None:
        """Print what must not be done as it stands now."""
        examined = self._session.examined
        for line in slacken_lines(examined.advice.slacken_now, examined):
            self._screen.say(line, "danger")
        for line in (*sign_lines(examined), *held_lines(self._session.held_back, examined)):
            self._screen.say(line, "danger")

    def _step(self) -> bool:
        """Ask one thing and carry out what is said; False ends the walk."""
        session = self._session
        asked = next_question(
            self._sitting, session.examined.advice, session.checklist, session.present
        )
        if isinstance(asked, events.Done):
            self._end(asked)
            return False
        if isinstance(asked, events.GoOn):
            return self._decide(asked)
        if self._teacher and not self._teacher.ask_first(asked):
            return False
        show_question(self._screen, session, asked, self._warned)
        while True:
            line = self._screen.ask(f"{asked.check.id}> ")
            if line is None:
                return False
            self._sitting, event = take_answer(self._sitting, asked, line, session.checklist)
            if isinstance(event, events.Stopped):
                return False
            if self._carry_out(event, asked):
                return True

    def _decide(self, asked: events.GoOn) -> bool:
        self._show_limit(asked)
        while True:
            line = self._screen.ask("Go on? (yes, or stop)> ")
            if line is None:
                return False
            self._sitting, event = take_decision(self._sitting, asked, line)
            if isinstance(event, events.Stopped):
                return False
            if self._carry_out(event, None):
                return True

    def _carry_out(self, event: events.Event, asked: events.Question | None) -> bool:
        """Do what was said; False asks the same thing again."""
        match event:
            case events.Answered():
                return self._write(event)
            case events.TakenBack(check):
                return self._take_back(check)
            case events.Told(setup):
                self._session.tell(setup)
                self._warn()
                return True
            case events.Passed(said):
                self._screen.say(said)
                return True
            case events.Noticed(said) | events.Puzzled(said):
                self._screen.say(said)
            case events.Picture(path):
                self._take_photo(path)
            case events.Shown(what):
                self._show(what, asked)
        return False

    def _write(self, event: events.Answered) -> bool:
        session = self._session
        moved = session.record(
            event.check, event.written, event.setup, note=event.note, photos=event.photos
        )
        self._saved += 1
        entry = session.checklist.checks[event.check]
        self._screen.say(f"{answer_text(entry, event.written, event.answer)}. Saved.")
        show_moved(self._screen, moved, session.examined)
        return True

    def _take_back(self, check: str) -> bool:
        moved = self._session.take_back(check)
        self._saved -= 1
        self._screen.say(f"Taken back: {self._session.checklist.checks[check].title}.")
        show_moved(self._screen, moved, self._session.examined)
        return True

    def _take_photo(self, path: str) -> None:
        try:
            photo = self._session.photo(path)
        except TailblockError as error:
            self._screen.say(str(error))
            return
        self._sitting = replace(self._sitting, photos=(*self._sitting.photos, photo))
        self._screen.say("The photograph goes with your answer.")

    def _show(self, what: events.Show, asked: events.Question | None) -> None:
        if what == "causes":
            show_causes(self._screen, self._session.examined)
        elif what == "help":
            show_help(self._screen, self._session.checklist)
        elif asked is not None:
            show_reason(self._screen, self._session, asked)

    def _show_limit(self, asked: events.GoOn) -> None:
        session, screen = self._session, self._screen
        screen.say()
        if asked.limit == "enough":
            show_enough(screen, session.examined)
            screen.say(f"{len(asked.left)} checks are left that would tell little.")
            return
        stage = session.checklist.stages[session.visit.stage]
        titles = [session.checklist.checks[check].title for check in asked.left]
        used = session.examined.advice.minutes_used
        could_not = " could not buy:" if titles else "."
        screen.say(f"The {stage.budget} of this visit ({used:g} used){could_not}", "title")
        for title in titles:
            screen.say(title, indent=2)

    def _end(self, done: events.Done) -> None:
        self._screen.say()
        if done.why == "all-skipped":
            self._screen.say("What is left was skipped today.")
        else:
            self._screen.say("There is nothing left to look at on this visit.")
            show_enough(self._screen, self._session.examined)

    def _farewell(self, how: str) -> str:
        kept, are = _count(self._saved, "answer"), "is" if self._saved == 1 else "are"
        path = self._session.path
        return f"{how}. {kept} {are} saved in {path}; `tailblock walk {path}` goes on."


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
