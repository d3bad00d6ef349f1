"""A diagnostic order for the wall: which check first, what each answer leads to, where to stop.

Out of `card_making`: `Card`, a decision tree of `Step`s and `Stop`s, with its expected minutes and
what it leaves open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist

Why = Literal["little", "depth", "rare"]
Group = tuple[str, ...]  # levels that lead to the same place


@dataclass(frozen=True, slots=True)
class Branch:
    """What one group of answers leads to.

    `chance`: of that answer, once one is here. `slacken`: the faults for which the instrument, at
    pitch, is now slackened before anything else.
    """

    levels: Group
    chance: float
    slacken: tuple[str, ...]
    then: Step | Stop


@dataclass(frozen=True, slots=True)
class Step:
    """A check to do. `setup`: the one it is read in. `setup_minutes`: what the way there costs."""

    check: str
    minutes: float
    setup: Setup
    setup_minutes: float
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the card ends: nothing more is worth its minutes, it is deep enough, or seldom reached.

    `standing`: the likeliest faults in question with their chances. `open_bits`: what is still
    uncertain about all faults in question, harm-weighted.
    """

    why: Why
    standing: tuple[tuple[str, float], ...]
    open_bits: float


@dataclass(frozen=True, slots=True)
class Card:
    """A card. `about`: the id of a complaint or a part; `opening`: the looks that come before it.

    `minutes`: expected from the first check to where it stops. `bits`: what the faults in question
    are uncertain by at first, `open_bits`: where it stops, expected.
    """

    checklist: Checklist
    about: str
    title: str
    traits: Mapping[str, str]
    opening: tuple[str, ...]
    root: Step | Stop
    bits: float

    @property
    def minutes(self) -> float:
        """Return the expected minutes."""
        return _expected(self.root, lambda one: one.minutes + one.setup_minutes, lambda _: 0.0)

    @property
    def open_bits(self) -> float:
        """Return the expected uncertainty [bits] that is left."""
        return _expected(self.root, lambda _: 0.0, lambda one: one.open_bits)

    @property
    def checks(self) -> tuple[str, ...]:
        """Return the checks of the card, each once, from the first on."""
        return tuple(dict.fromkeys(step.check for step in steps(self.root)))


def steps(node: Step | Stop) -> Iterator[Step]:
    """Yield the steps of a tree, each before what it leads to."""
    if isinstance(node, Step):
        yield node
        for branch in node.branches:
            yield from steps(branch.then)


def _expected(
    node: Step | Stop, at_step: Callable[[Step], float], at_stop: Callable[[Stop], float]
) -> float:
    if isinstance(node, Stop):
        return at_stop(node)
    ahead = (each.chance * _expected(each.then, at_step, at_stop) for each in node.branches)
    return at_step(node) + sum(ahead)
