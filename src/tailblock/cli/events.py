"""What can be said in a walk: the sitting so far, what is asked, and what a line can mean.

In: nothing; `dialogue` makes these. Out: frozen values that `guide` carries out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from tailblock.advice import Advised
    from tailblock.inspection.record import Answer, Setup
    from tailblock.knowledge.entries import Check

Show = Literal["why", "causes", "help"]
Limit = Literal["minutes", "enough"]
Ending = Literal["nothing-left", "all-skipped"]


@dataclass(frozen=True, slots=True)
class Sitting:
    """What a person has said in this sitting and the file does not hold.

    `note` and `photos` wait for the answer that they go with. `told` is the setup that the person
    has told since the last answer. `again` is a check whose answer was just taken back.
    """

    answered: tuple[str, ...] = ()
    skipped: frozenset[str] = frozenset()
    note: str = ""
    photos: tuple[str, ...] = ()
    told: Setup | None = None
    again: str | None = None
    past: frozenset[Limit] = frozenset()

    def without_baggage(self) -> Sitting:
        """Return the sitting with nothing that waits for an answer."""
        return replace(self, note="", photos=(), again=None)


@dataclass(frozen=True, slots=True)
class Question:
    """A check on the screen, and the setup that its answer is about."""

    check: Check
    setup: Setup
    advised: Advised | None = None


@dataclass(frozen=True, slots=True)
class GoOn:
    """The person decides whether to go past a limit.

    `left` are the checks beyond it: what the minutes could not buy, or what is not worth them.
    """

    limit: Limit
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Done:
    """There is nothing more to ask."""

    why: Ending


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer to be written, with what goes with it."""

    check: str
    written: str
    answer: Answer
    setup: Setup
    note: str = ""
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The last answer of this sitting is to be taken out."""

    check: str


@dataclass(frozen=True, slots=True)
class Shown:
    """Something is to be shown; nothing changes."""

    what: Show


@dataclass(frozen=True, slots=True)
class Noticed:
    """Something was taken in that changes nothing yet; `said` acknowledges it."""

    said: str


@dataclass(frozen=True, slots=True)
class Passed:
    """The question on the screen is over without an answer; `said` tells what becomes of it."""

    said: str


@dataclass(frozen=True, slots=True)
class Told:
    """The person has told what the setup is now."""

    setup: Setup


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph was named; whether there is such a file is for the edge to say."""

    path: str


@dataclass(frozen=True, slots=True)
class Puzzled:
    """The line cannot be taken; `said` tells what would be right."""

    said: str


@dataclass(frozen=True, slots=True)
class Stopped:
    """Go on another day."""


Event = Answered | TakenBack | Shown | Noticed | Passed | Told | Picture | Puzzled | Stopped
Next = Question | GoOn | Done
