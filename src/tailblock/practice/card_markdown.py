"""A card as Markdown: a numbered key, as those by which plants are named.

In: a `Card`. Out: Markdown. Each number is a check; behind each answer stands the number that comes
next, or where it stops.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.practice import card_words as words
from tailblock.practice.card import Step, steps
from tailblock.report.plain import markdown_text
from tailblock.report.wording import percent

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.practice.card import Card


def to_markdown(card: Card) -> str:
    """Return a card as Markdown."""
    return "\n".join(_lines(card)) + "\n"


def _lines(card: Card) -> Iterator[str]:
    yield f"# {markdown_text(words.heading(card))}"
    yield ""
    for text in (words.known(card), words.before(card), words.summary(card)):
        if text:
            yield markdown_text(text)
            yield ""
    if not isinstance(card.root, Step):
        yield from (f"- {markdown_text(line)}" for line in words.stop_words(card, card.root))
        yield ""
    numbers = {id(step): number for number, step in enumerate(steps(card.root), start=1)}
    before: dict[int, Mapping[str, str]] = {}
    for step in steps(card.root):
        setup = before.get(id(step), step.setup)
        yield f"**{numbers[id(step)]}. {markdown_text(words.step_words(card, step, setup))}**"
        yield ""
        for branch in step.branches:
            before[id(branch.then)] = step.setup
            said = markdown_text(words.answer_words(card, step, branch))
            leads = f"- {said} ({percent(branch.chance)}):"
            if branch.slacken:
                leads += f" **{markdown_text(words.slacken_words(card, branch.slacken))}**"
            if isinstance(branch.then, Step):
                yield f"{leads} go to {numbers[id(branch.then)]}"
            else:
                yield f"{leads} {markdown_text('; '.join(words.stop_words(card, branch.then)))}"
        yield ""
    found = tuple(words.traps(card))
    if found:
        yield "## Traps"
        yield ""
        yield from (f"- {markdown_text(title)}: {markdown_text(trap)}" for title, trap in found)
        yield ""
    if words.why_this_order(card):
        yield "## Why a visit begins as it does"
        yield ""
        yield markdown_text(words.why_this_order(card))
