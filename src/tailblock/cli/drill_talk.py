"""The talk of a drill: asks, reads a line, does what it means, says what came of it.

In: a drill and a screen. Out: the debrief on the screen, and a line in the file of progress. What
is decided, measured and judged is decided in `practice.drill` and `practice.debrief`.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Literal

from tailblock.cli.boundary import Interrupted
from tailblock.cli.debrief_screen import answer_words, show_debrief, show_feedback
from tailblock.cli.listing import show_checks, show_parts
from tailblock.cli.options import setup_with
from tailblock.errors import TailblockError
from tailblock.practice.debrief import debrief, known_faults
from tailblock.practice.first_step import MOVES
from tailblock.practice.progress import add, as_text, done
from tailblock.report.wording import counted, listed, minutes, setup_words

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tailblock.cli.output import Screen
    from tailblock.practice.drill import Drill

Phase = Literal["bench", "faults", "first", "over", "stopped"]

WORDS: Mapping[str, str] = {
    "CHECK": "do a check, by its id",
    "set NAME STATE": "bring it into another setup: `set strings slack`",
    "list": "the parts; `list PART` lists the checks of one",
    "how CHECK": "how a check is done, before it is done; it costs nothing",
    "feedback": "what the last check was worth, and what the advice would have done",
    "unknown": "you do not know what to look at: the advice says it, and that is counted",
    "done": "no more checks: name the faults",
    "back": "from naming back to the bench; what was read stays read",
    "stop": "end without a debrief; nothing is kept",
    "help": "this list",
}
_STOP = frozenset({"stop", "quit"})


class DrillTalk:
    """One drill in a terminal."""

    def __init__(self, screen: Screen, drill: Drill, progress: Path | None) -> None:
        self._screen = screen
        self._drill = drill
        self._checklist = drill.case.checklist
        self._progress = progress
        self._named: tuple[str, ...] = ()

    def go(self) -> None:
        """Talk until the debrief, a stop, or the end of the input."""
        phases: Mapping[Phase, Callable[[str], Phase]] = {
            "bench": self._at_bench,
            "faults": self._naming,
            "first": self._first_of_all,
        }
        prompts = {"bench": "check> ", "faults": "faults> ", "first": "first> "}
        phase: Phase = "bench"
        try:
            self._greet()
            while phase in phases:
                line = self._screen.ask(prompts[phase])
                said = None if line is None else " ".join(line.split())
                if said is None or said.casefold() in _STOP:
                    phase = "stopped"
                    continue
                try:
                    before, phase = phase, phases[phase](said)
                except TailblockError as error:
                    self._screen.say(str(error))
                    continue
                if phase != before:
                    self._introduce(phase)
        except KeyboardInterrupt:
            self._screen.say()
            raise Interrupted("Broken off. Nothing is kept of a drill without its end.") from None
        if phase == "stopped":
            self._screen.say("Stopped. Nothing is kept of a drill without its end.")

    def _greet(self) -> None:
        case, say = self._drill.case, self._screen.say
        say(f"A drill on {self._checklist.title}: {case.source}", "title")
        traits = [
            f"{self._checklist.traits[name].called}: {self._checklist.traits[name].text(value)}"
            for name, value in case.hidden.traits.items()
        ]
        say(f"{'; '.join(traits)}.", "quiet")
        say(f"It stands with {setup_words(self._drill.bench.present)}.")
        for reading in self._drill.bench.visit.readings:
            check = self._checklist.checks[reading.check]
            say(f"The player says: {check.title}: {answer_words(check, reading.answer)}.")
        if not case.complaints:
            say("The player complains of nothing.")
        say("Say what you check, or `help`; `done` when you know enough.", "quiet")

    def _introduce(self, phase: Phase) -> None:
        say = self._screen.say
        if phase == "faults":
            say("Which faults are there? Their ids with commas between, `list PART`, `unknown`.")
        elif phase == "first":
            say("What do you do first? A remedy's id, `list`, `unknown`, or one of these:")
            say(listed(MOVES, "or"), indent=2)
        elif phase == "bench":
            say("At the bench again.")

    def _at_bench(self, said: str) -> Phase:
        word, _, rest = said.partition(" ")
        word = word.casefold()
        if word == "done" and not rest:
            return "faults"
        if word == "set":
            name, _, state = rest.casefold().partition(" ")
            told = {name: state.replace(" ", "-")}
            self._drill.bring(setup_with(self._drill.bench.present, told, self._checklist))
            self._screen.say(f"It now stands with {setup_words(self._drill.bench.present)}.")
            self._warn()
        elif word == "list":
            among = (one.tells for one in self._drill.bench.known.found)
            show_checks(self._screen, self._checklist, among, rest.casefold())
        elif word == "how" and rest:
            self._how(rest.casefold())
        elif said.casefold() in ("feedback", "unknown", "back", "help", "?", ""):
            self._word(said.casefold())
        else:
            self._choose("-".join(said.casefold().split()))
        return "bench"

    def _word(self, word: str) -> None:
        say = self._screen.say
        if word == "feedback":
            if self._drill.choices:
                show_feedback(self._screen, self._checklist, self._drill.choices[-1])
            else:
                say("Nothing was checked yet.")
        elif word == "unknown":
            advised = self._drill.hint()
            if advised is None:
                say("The advice has nothing more: name the faults with `done`.")
            else:
                title = self._checklist.checks[advised.check].title
                say(f"The advice: {title} ({advised.check}). {advised.reason}")
        elif word == "back":
            say("What was read stays read, and its minutes are spent; take another check.")
        else:
            width = max(map(len, WORDS))
            for name, what in WORDS.items():
                say(f"{name:<{width}}  {what}", indent=2)

    def _choose(self, name: str) -> None:
        before = self._drill.bench.present
        choice = self._drill.choose(name)
        check = self._checklist.checks[name]
        setup = choice.reading.setup
        if setup != before:
            moved = {each: state for each, state in setup.items() if before[each] != state}
            self._screen.say(f"First brought to {setup_words(moved)}.", "quiet")
        self._screen.say(
            f"{check.ask} {answer_words(check, choice.reading.answer)}. "
            f"({minutes(choice.minutes)}, {minutes(self._drill.minutes)} in all)"
        )

    def _warn(self) -> None:
        if self._drill.bench.known.situation.at_pitch:
            self._screen.say("The strings are under their full tension.", "quiet")

    def _how(self, name: str) -> None:
        from tailblock.inspection.answers import find_check

        check = find_check(name, self._checklist, self._drill.case.hidden.traits)
        self._screen.say((check.how or check.ask).strip(), indent=2)

    def _naming(self, said: str) -> Phase:
        word, _, rest = said.casefold().partition(" ")
        if word == "back":
            return "bench"
        if word == "list":
            self._list_faults(rest)
            return "faults"
        if word in ("help", "?", ""):
            self._introduce("faults")
            return "faults"
        names = () if word == "unknown" else said.casefold().replace(",", " ").split()
        self._named = known_faults(self._checklist, names)
        return "first"

    def _list_faults(self, part: str) -> None:
        if not part:
            show_parts(self._screen, self._checklist)
        for fault in self._checklist.faults.values():
            if fault.part == part and fault.kind != "event":
                self._screen.say(f"{fault.id}: {fault.name}", indent=2)

    def _first_of_all(self, said: str) -> Phase:
        word = said.casefold()
        if word == "back":
            return "faults"
        if word in ("list", "help", "?", ""):
            self._list_remedies()
            return "first"
        self._end("" if word == "unknown" else "-".join(word.split()))
        return "over"

    def _list_remedies(self) -> None:
        for move in MOVES:
            self._screen.say(move, indent=2)
        for remedy in self._checklist.remedies.values():
            if any(entry.fault in self._named for entry in remedy.fixes):
                self._screen.say(f"{remedy.id}: {remedy.name}", indent=2)

    def _end(self, first: str) -> None:
        told = debrief(self._drill, self._named, first)
        show_debrief(self._screen, self._drill.case, told)
        if self._progress is None:
            return
        at = datetime.now().astimezone().isoformat(timespec="minutes")
        drills = add(self._progress, done(self._drill.case, told, at))
        self._screen.say()
        number = counted(len(drills), "{number} drill", "{number} drills")
        self._screen.say(f"Kept in {self._progress}, {number} so far:", "title")
        for line in as_text(drills):
            self._screen.say(line, indent=2)
