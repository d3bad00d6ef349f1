"""A card as an outline: what its sheet says, in which order and how deep, for whatever prints it.

In: a `Card`. Out: `Outline`, plain text in pieces. An outline and not boxes side by side: a line
holds an answer with what it leads to, so that a tree of five checks still fits one sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.practice import card_words as words
from tailblock.practice.card import Step
from tailblock.report.wording import percent

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.practice.card import Branch, Card

A4 = (210.0, 297.0)  # mm
LETTER = (215.9, 279.4)

Style = Literal["", "step", "said", "danger"]
Pieces = tuple[tuple[Style, str], ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """A group of answers with what it leads to, and the answers to the check that comes next."""

    text: Pieces
    below: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Outline:
    """All that stands on a sheet.

    `lead`: what is known, what comes before, what it takes. `first`: the first check, or where it
    stops at once. `traps`: title and trap of each check that has one. `why`: why a visit begins as
    it does, empty if the checklist does not say.
    """

    title: str
    lead: tuple[str, ...]
    first: Pieces
    answers: tuple[Answer, ...]
    traps: tuple[tuple[str, str], ...]
    why: str


def outline(card: Card) -> Outline:
    """Return a card as an outline."""
    lead = (words.known(card), words.before(card), words.summary(card))
    first: Pieces
    answers: tuple[Answer, ...] = ()
    if isinstance(card.root, Step):
        first = (("step", words.step_words(card, card.root, card.root.setup)),)
        answers = tuple(_answers(card, card.root))
    else:
        first = (("", "; ".join(words.stop_words(card, card.root))),)
    return Outline(
        words.heading(card),
        tuple(text for text in lead if text),
        first,
        answers,
        tuple(words.traps(card)),
        words.why_this_order(card),
    )


def _answers(card: Card, step: Step) -> Iterator[Answer]:
    for branch in step.branches:
        below = tuple(_answers(card, branch.then)) if isinstance(branch.then, Step) else ()
        yield Answer(tuple(_text(card, step, branch)), below)


def _text(card: Card, step: Step, branch: Branch) -> Iterator[tuple[Style, str]]:
    yield "said", f"{words.answer_words(card, step, branch)}, {percent(branch.chance)}: "
    if branch.slacken:
        yield "danger", f"{words.slacken_words(card, branch.slacken)} "
    if isinstance(branch.then, Step):
        yield "step", words.step_words(card, branch.then, step.setup)
    else:
        yield "", "; ".join(words.stop_words(card, branch.then))
