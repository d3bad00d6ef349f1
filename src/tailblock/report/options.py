"""What a player can choose among the offers, each as a plan of its own.

In: the offered work. Out: `Option`s, each with the pieces of work that are in it and the faults
that each of them is done for. Options build on one another: to put the cause right one makes it
safe and playable too.

Where two pieces of work deal with one fault, it is put down to one of them: to that of the later
stage, which makes the earlier one needless, else to the first in working order; to what is only
done if it is wanted last of all. A piece that is left without a fault is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.hours.called import Piece
from tailblock.errors import TailblockError
from tailblock.report.plan import KINDS
from tailblock.report.sentences import OFFERS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.report.plan import Chosen

_ONLY_IF_WANTED = "improve"


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
        there = ", ".join(option.id for option in options) or "none, as no work is offered"
        super().__init__(f"--option: there is no {given!r} for this instrument (there is {there})")


def options(chosen: Chosen) -> tuple[Option, ...]:
    """Return the options, from the least work to the most."""
    stages = [kind for kind in KINDS if any(r.stage == kind for r in chosen.remedies.values())]
    return tuple(
        Option(kind, OFFERS[kind][0], _pieces(chosen, stages[: at + 1]))
        for at, kind in enumerate(stages)
    )


def option_of(chosen: Chosen, given: str = "") -> Option | None:
    """Return the option of an id, or the widest that deals with faults; None if nothing is offered.

    Raises
    ------
    NoSuchOption
    """
    there = options(chosen)
    if given:
        for option in there:
            if option.id == given:
                return option
        raise NoSuchOption(given, there)
    needed = [option for option in there if option.id != _ONLY_IF_WANTED] or list(there)
    return needed[-1] if needed else None


def _pieces(chosen: Chosen, stages: Sequence[str]) -> tuple[Piece, ...]:
    within = [remedy for remedy in chosen.remedies.values() if remedy.stage in stages]
    put_down: set[str] = set()
    serves: dict[str, tuple[str, ...]] = {}
    wanted_last = sorted(within, key=lambda r: (r.stage == _ONLY_IF_WANTED, -stages.index(r.stage)))
    for remedy in wanted_last:
        mine = tuple(c.id for c in chosen.called_by(remedy) if c.id not in put_down)
        put_down.update(mine)
        serves[remedy.id] = mine
    return tuple(Piece(remedy.id, serves[remedy.id]) for remedy in within if serves[remedy.id])
