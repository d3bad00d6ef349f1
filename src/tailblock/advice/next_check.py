"""What to look at next, in order, and when it is enough.

In: the state of the visit, the candidates with their gains, the probabilities, what would settle
each fault, what a person has accepted. Out: `Advice`.

The order: the stage's opening list as its author wrote it; gates that decide about something worth
its minutes; at pitch with a danger fault open, what can only be read there; what clears danger
faults; the rest by gain per minute. A check with a risk comes after every harmless one that shows
the same fault, and what hangs on a gate after the gate. Of a family only the best is named.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.gain import entropy
from tailblock.advice.held_back import Clearing, danger_of, held_back, slacken_now
from tailblock.advice.order import Item, Order
from tailblock.advice.ranking import weights
from tailblock.advice.results import Advice, Advised, Settling, Unsettled
from tailblock.advice.sentences import Reasoning
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.advice.candidates import Candidate
    from tailblock.advice.gain import Gain
    from tailblock.advice.situation import Situation
    from tailblock.knowledge.checklist import Checklist

# A fault that matters and stands between these is unsettled.
MATTERS = 0.5
UNSETTLED = (0.2, 0.8)


def advise(
    situation: Situation,
    found: Sequence[Candidate],
    gains: Mapping[str, Gain],
    shown_by: Mapping[str, Collection[str]],
    probability: Mapping[str, float],
    *,
    settled_by: Mapping[str, Settling],
    accepted: Collection[str] = (),
) -> Advice:
    """Return what to do next on a visit, and what not.

    Parameters
    ----------
    situation, found
        The state of the visit and what could be read on it.
    gains
        What each candidate would tell, by the id of the check that tells it.
    shown_by
        Check -> the faults that it shows, directly or through a symptom; every candidate is in it.
    probability
        Of every fault that applies.
    settled_by
        Fault -> the unread check that would settle it best.
    accepted
        The danger faults against which a person goes on.
    """
    checklist = situation.checklist
    danger = danger_of(checklist, probability, accepted)
    clearing = Clearing(checklist, found, gains, shown_by)
    urgent = slacken_now(situation, probability)
    order = Order(situation, found, gains, shown_by, held=bool(danger.open))
    items = order.items(clearing.ordered(danger.open), reading_at_pitch=not urgent)
    reasoning = Reasoning(checklist, probability, danger.open)
    advice = tuple(_advised(item, order, gains, reasoning) for item in items)
    best = max((item.rate for item in order.offered), default=0.0)
    stage = checklist.stages.get(situation.stage)
    budget = parse(stage.budget, "time").quantity.value * 60 if stage else None
    return Advice(
        advice=advice,
        held_back=held_back(situation, found, danger, clearing),
        enough=best < checklist.limits.stop_bits_per_minute and not clearing.ordered(danger.all),
        slacken_now=urgent,
        minutes_used=situation.minutes_used,
        budget=budget,
        beyond=_beyond(situation, advice, budget),
        unsettled=_unsettled(checklist, probability, settled_by),
    )


def _advised(item: Item, order: Order, gains: Mapping[str, Gain], reasoning: Reasoning) -> Advised:
    candidate = item.candidate
    decides = [other.tells for other in order.hanging_on(candidate)]
    gain = gains[candidate.tells]
    return Advised(
        check=item.way.check,
        gain_bits=item.bits,
        minutes=candidate.minutes,
        setup_minutes=item.way.minutes,
        reason=reasoning.sentence(item.step, candidate.tells, item.way.check, gain, decides),
        step=item.step,
        setup=item.way.end,
        if_trait=candidate.if_trait,
        for_derived=None if candidate.tells == item.way.check else candidate.tells,
    )


def _beyond(
    situation: Situation, advice: Sequence[Advised], budget: float | None
) -> tuple[str, ...]:
    """Return what is worth its minutes but lies past the stage's, if all is done in this order."""
    if budget is None:
        return ()
    stop = situation.checklist.limits.stop_bits_per_minute
    worth = [a for a in advice if a.step != "gain" or a.bits_per_minute >= stop]
    here, minutes = situation.present, situation.minutes_used
    for place, advised in enumerate(worth):
        way = situation.map.route(here, {name: (state,) for name, state in advised.setup.items()})
        here, minutes = advised.setup, minutes + advised.minutes + (way.minutes if way else 0.0)
        if minutes > budget:
            return tuple(advised.check for advised in worth[place:])
    return ()


def _unsettled(
    checklist: Checklist, probability: Mapping[str, float], settled_by: Mapping[str, Settling]
) -> tuple[Unsettled, ...]:
    """Return every fault that matters and is open, by weight times what is open of it."""
    low, high = UNSETTLED
    matters = weights(checklist)
    bits = entropy(np.array(list(probability.values())))
    worth = {
        fault: matters[fault] * open_
        for fault, open_ in zip(probability, bits, strict=True)
        if low <= probability[fault] <= high and matters[fault] >= MATTERS
    }
    return tuple(
        Unsettled(fault, probability[fault], settled_by.get(fault))
        for fault in sorted(worth, key=lambda fault: -worth[fault])
    )
