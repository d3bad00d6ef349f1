"""`walk --teach`: the apprentice says what they would look at and why, before the advice does.

In: the question that comes next. Out: what the apprentice said beside it, on the screen. Nothing of
it goes into the file; the walk goes on with the advised check.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.cli.listing import show_checks
from tailblock.cli.phrases import check_text
from tailblock.errors import TailblockError
from tailblock.knowledge.entries import UNKNOWN
from tailblock.practice.teaching import Compared, Side, beside
from tailblock.report.wording import listed_some, minutes

if TYPE_CHECKING:
    from tailblock.advice import Advised
    from tailblock.cli.events import Question
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session

_ASKED = "What would you look at, and why? (CHECK, WHY; `list PART`; `unknown`; `stop`)"
_NAMED = 3  # faults in a sentence


class Teacher:
    """Asks before the advice is shown. Why the visit begins as it does is said once."""

    def __init__(self, screen: Screen, session: Session) -> None:
        self._screen = screen
        self._session = session
        self._said_order = False

    def ask_first(self, asked: Question) -> bool:
        """Ask what the apprentice would look at; False stops the walk."""
        if asked.advised is None:
            return True
        self._screen.say()
        self._screen.say(_ASKED, "title")
        while True:
            line = self._screen.ask("you> ")
            if line is None or line.strip().casefold() == "stop":
                return False
            if self._take(" ".join(line.split()), asked.advised):
                return True

    def _take(self, said: str, advised: Advised) -> bool:
        """Take what was said; False asks again."""
        word, _, rest = said.partition(" ")
        checklist = self._session.checklist
        if word.casefold() == "list":
            names = [entry.check for entry in self._session.examined.advice.advice]
            show_checks(self._screen, checklist, dict.fromkeys(names), rest.casefold())
            return False
        if word.casefold() in ("", "help", "?"):
            self._screen.say(_ASKED)
            return False
        if said.casefold() == UNKNOWN:
            self._show_advice(advised)
            return True
        check, _, why = said.partition(",") if "," in said else said.partition(" ")
        try:
            compared = beside(self._session.examined, check.strip().casefold(), advised)
        except TailblockError as error:
            self._screen.say(str(error))
            return False
        if not why.strip():
            self._screen.say("And why? Write it behind the check: `CHECK, WHY`.")
            return False
        self._show(compared, why.strip(), advised)
        return True

    def _show(self, compared: Compared, why: str, advised: Advised) -> None:
        checklist = self._session.checklist
        self._screen.say(f"You: {check_text(compared.yours.check, checklist)}: {why}")
        self._screen.say(_worth(compared.yours), indent=2)
        self._quote(compared.yours.check)
        if compared.same:
            self._screen.say("The advice is the same.")
            self._screen.say(advised.reason, indent=2)
        else:
            self._show_advice(advised, compared)
        self._say_order(advised)

    def _show_advice(self, advised: Advised, compared: Compared | None = None) -> None:
        checklist = self._session.checklist
        self._screen.say(f"The advice: {check_text(advised.check, checklist)}: {advised.reason}")
        if compared is not None:
            self._screen.say(_worth(compared.advised), indent=2)
        self._quote(advised.check)
        if compared is not None and compared.blind:
            names = [checklist.faults[fault].name for fault in compared.blind]
            self._screen.say(f"Yours could tell nothing of: {listed_some(names, _NAMED)}.")
        if compared is None:
            self._say_order(advised)

    def _quote(self, name: str) -> None:
        check = self._session.checklist.checks[name]
        if check.trap:
            self._screen.say(f"Trap: {check.trap}", indent=2)

    def _say_order(self, advised: Advised) -> None:
        stage = self._session.checklist.stages[self._session.visit.stage]
        if advised.step == "opening" and stage.why_this_order and not self._said_order:
            self._said_order = True
            self._screen.say(f"Why the visit begins so: {stage.why_this_order.strip()}", "quiet")


def _worth(side: Side) -> str:
    """Write what a check would tell, and what it costs."""
    if side.read:
        return "It has been read, or cannot count now: it tells nothing new."
    if side.setup_minutes is None:
        return f"{side.bits:.3f} bits, but only repair work leads there."
    way = f" and {minutes(side.setup_minutes)} to get there" if side.setup_minutes else ""
    whole = side.minutes + side.setup_minutes
    rate = f"; {side.bits / whole:.3f} bits a minute" if whole else ""
    held = " It is held back: a danger under tension is not cleared." if side.held else ""
    return f"{side.bits:.3f} bits for {minutes(side.minutes)}{way}{rate}.{held}"
