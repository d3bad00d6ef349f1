"""What a player can choose among the offers, each as a plan of its own.

In: the offered work. Out: `Option`s, each with the pieces of work that are in it and the faults
that each of them is done for. Options build on one another. Where two pieces of work are called by
one fault, it is put down to the first in working order, so that no hour counts twice.

What firm work needs first and no fault calls by itself, as taking a bridge off before it is glued,
is done in any case: only then is it seen whether the fault is there. All else is done if a fault of
it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.choose_work import KINDS
from tailblock.advice.hours.called import Piece
from tailblock.errors import TailblockError
from tailblock.messages import _
from tailblock.report.sentences import OFFERED_AT_PITCH, OFFERS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.advice.choose_work import Chosen, PlannedWork

_NOT_NEEDED = "while-open"  # worth doing, if the player wants it


@dataclass(frozen=True, slots=True)
class Option:
    """A plan that can be chosen: its id, what it is called, its pieces in working order."""

    id: str
    title: str
    pieces: tuple[Piece, ...]


class NoSuchOption(TailblockError):
    """There is no option of that name to choose."""

    def __init__(self, given: str, options: Sequence[Option]) -> None:
        self.given = given
        there = ", ".join(option.id for option in options) or _("none, as no work is offered")
        super().__init__(
            _("--option: there is no {given!r} for this instrument (there is {there})").format(
                given=given, there=there
            )
        )


def offer_words(kind: str, *, at_pitch: bool) -> tuple[str, str]:
    """Return the title of an offer and what it promises.

    `at_pitch`: nothing speaks against bringing it to pitch, so no work is needed for that.
    """
    title, promise = OFFERED_AT_PITCH if at_pitch and kind == "to-string" else OFFERS[kind]
    return _(title), _(promise)


def options(chosen: Chosen, *, at_pitch: bool = False) -> tuple[Option, ...]:
    """Return the options, from the least work to the most."""
    there = [kind for kind in KINDS if chosen.of(kind)]
    return tuple(
        Option(kind, offer_words(kind, at_pitch=at_pitch)[0], _pieces(chosen.of(*there[: at + 1])))
        for at, kind in enumerate(there)
    )


def option_of(chosen: Chosen, given: str = "", *, at_pitch: bool = False) -> Option | None:
    """Return the option of an id, or the widest of what is needed; None if nothing is offered.

    Raises
    ------
    NoSuchOption
    """
    there = options(chosen, at_pitch=at_pitch)
    if given:
        for option in there:
            if option.id == given:
                return option
        raise NoSuchOption(given, there)
    needed = [option for option in there if option.id != _NOT_NEEDED] or list(there)
    return needed[-1] if needed else None


def _pieces(works: Sequence[PlannedWork]) -> tuple[Piece, ...]:
    put_down: set[str] = set()
    pieces = []
    first = _needed_by_firm(works)
    for work in works:
        serves = tuple(fault for fault in work.faults if fault not in put_down)
        pieces.append(Piece(work.remedy, serves, always=work.remedy in first and not work.faults))
        put_down.update(work.faults)
    return tuple(pieces)


def _needed_by_firm(works: Sequence[PlannedWork]) -> set[str]:
    """Return the remedies that work needs first which does not wait for a finding."""
    needs = {work.remedy: work.needs for work in works}
    waiting = [work.remedy for work in works if work.faults and not work.if_found]
    found: set[str] = set()
    while waiting:
        for needed in needs.get(waiting.pop(), ()):
            if needed not in found:
                found.add(needed)
                waiting.append(needed)
    return found
