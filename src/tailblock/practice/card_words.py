"""The words of a card, the same in every form.

In: a `Card` and its places. Out: short texts.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tailblock.advice.sentences import inline
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.report.wording import (
    band,
    listed,
    minutes,
    percent,
    setup_words,
    shown,
    words_of_level,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.inspection.record import Setup
    from tailblock.practice.card import Branch, Card, Step, Stop, Why

STOPS: Mapping[Why, str] = {
    "little": "Stop: no more look is worth it.",
    "depth": "Go on with a full inspection.",
    "rare": "Seldom: a full inspection.",
}


def heading(card: Card) -> str:
    """Write what the card is for."""
    return f"{card.title}: what to look at, in which order"


def summary(card: Card) -> str:
    """Write what the card takes and what it brings."""
    return (
        f"About {minutes(round(card.minutes, 1))} on average. Of {card.bits:.1f} bits of doubt "
        f"about what is in question {card.open_bits:.1f} are left at its end."
    )


def before(card: Card) -> str:
    """Write what is looked at before the card begins, or nothing."""
    names = [inline(card.checklist.checks[name].title) for name in card.opening]
    return f"First, on any visit: {listed(names)}." if names else ""


def known(card: Card) -> str:
    """Write what is taken as known of the instrument."""
    settled = [
        f"{trait.called}: {trait.text(card.traits[name])}"
        for name, trait in card.checklist.traits.items()
        if card.traits[name] != "unknown"
    ]
    return f"For {'; '.join(settled)}. All else is averaged." if settled else ""


def why_this_order(card: Card) -> str:
    """Return why a visit begins as it does, in the checklist's words."""
    stage = next(iter(card.checklist.stages.values()), None)
    return " ".join((stage.why_this_order or "").split()) if stage else ""


def step_words(card: Card, step: Step, before_it: Setup) -> str:
    """Write a check, its minutes, and the setup if it is another than before."""
    moved = {name: state for name, state in step.setup.items() if before_it.get(name) != state}
    way = f"{setup_words(moved)}, {minutes(step.setup_minutes)}, then " if moved else ""
    return f"{way}{card.checklist.checks[step.check].title} ({minutes(step.minutes)})"


def answer_words(card: Card, step: Step, branch: Branch) -> str:
    """Write the answers that lead to one place: levels in words, or a band of values."""
    check = card.checklist.checks[step.check]
    ids = levels_of(check).ids
    places = sorted(ids.index(level) for level in branch.levels)
    if check.measure is None:
        return " / ".join(words_of_level(check, ids[place]) for place in places)
    by_weight = sorted(limits_for(check, card.traits, card.checklist), key=lambda one: -one.weight)
    edges = edges_of(by_weight[0].limits, check.measure).values
    quantity = check.measure.quantity
    low = shown(edges[places[0] - 1], quantity) if places[0] > 0 else None
    high = shown(edges[places[-1]], quantity) if places[-1] < len(edges) else None
    return band(low, high)


def slacken_words(card: Card, faults: Sequence[str]) -> str:
    """Write that it is slackened now, and because of what."""
    names = [_short(card, fault) for fault in faults]
    return f"Slacken the strings now: {listed(names)}."


def stop_words(card: Card, stop: Stop) -> tuple[str, ...]:
    """Write what stands where the card stops, a line each."""
    standing = [f"{percent(chance)} {_short(card, fault)}" for fault, chance in stop.standing]
    return (*(standing or ["Nothing in question stands out."]), STOPS[stop.why])


def _short(card: Card, fault: str) -> str:
    """Return the name of a fault without what only explains it: what stands behind a comma."""
    return inline(re.split("[,;]", card.checklist.faults[fault].name)[0])


def traps(card: Card) -> Iterator[tuple[str, str]]:
    """Yield the title and the trap of each check of the card that has one."""
    for name in card.checks:
        check = card.checklist.checks[name]
        if check.trap:
            yield check.title, " ".join(check.trap.split())
