"""What to look at next, in order, and when it is enough.

In: the state of the visit, the candidates with their gains, the probabilities, what would settle
each fault, what a person has accepted. Out: `Advice`.

The order: the stage's opening list as its author wrote it; while the player is there, questions
that tell more for each minute than the looks that would be next; at pitch with a danger fault open,
what can only be read there and tells much; what clears danger faults; gates over what has been
answered; the rest in bundles by gain per minute, a gate for what it opens the way to. A check with
a risk comes after every harmless one that shows the same fault, and what hangs on a gate after the
gate. Of a family only the best is named.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.gain import Gain, entropy
from tailblock.advice.held_back import Clearing, danger_of, held_back, slacken_now
from tailblock.advice.order import Item, Order
from tailblock.advice.ranking import weights
from tailblock.advice.results import Advice, Advised, AdvisedBundle, Settling, Unsettled
from tailblock.advice.sentences import Reasoning
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate
    from tailblock.advice.second_look import SecondLook
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
    carried: Collection[str] = (),
    second: SecondLook | None = None,
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
    carried
        Checks of which the answer of an earlier visit still stands.
    second
        What a second inspection looks at first, None on a first one.
    """
    checklist = situation.checklist
    danger = danger_of(checklist, probability, accepted)
    clearing = Clearing(checklist, found, gains, shown_by)
    urgent = slacken_now(situation, probability)
    order = Order(situation, found, gains, shown_by, held=bool(danger.open), carried=carried)
    items = tuple(
        order.items(clearing.foremost(danger.open), reading_at_pitch=not urgent, second=second)
    )
    if second is not None:
        items = second.safe(items)
    reasoning = Reasoning(checklist, probability, danger.open)
    groups = _groups(items, checklist.limits.stop_bits_per_minute)
    advice = tuple(
        _advised(item, order, gains, reasoning, bundle=place, second=second)
        for place, group in enumerate(groups)
        for item in group
    )
    best = max([order.best_rate, *(item.rate for item in items)])
    phase = second.phase(items, held=bool(danger.open)) if second else None
    stage = checklist.stages.get(situation.stage)
    budget = parse(stage.budget, "time").quantity.value * 60 if stage else None
    return Advice(
        advice=advice,
        bundles=tuple(_bundle(situation, groups, gains, reasoning)),
        held_back=held_back(situation, found, danger, clearing),
        enough=best < checklist.limits.stop_bits_per_minute
        and not clearing.ordered(danger.all)
        and phase in {None, "gain"},
        best_rate=best,
        slacken_now=urgent,
        minutes_used=situation.minutes_used,
        budget=budget,
        beyond=_beyond(situation, groups, budget),
        unsettled=_unsettled(checklist, probability, settled_by),
        phase=phase,
        signs=second.signs if second and phase == "slacken" else (),
    )


def foremost(
    situation: Situation,
    found: Sequence[Candidate],
    gains: Mapping[str, Gain],
    shown_by: Mapping[str, Collection[str]],
    probability: Mapping[str, float],
) -> Item | None:
    """Return what `advise` puts first on a first inspection, None if nothing.

    What comes after it, which is most of the work of an advice, is left out where nothing hangs
    on it. Parameters as there.
    """
    danger = danger_of(situation.checklist, probability, accepted=())
    clearing = Clearing(situation.checklist, found, gains, shown_by)
    order = Order(situation, found, gains, shown_by, held=bool(danger.open))
    urgent = slacken_now(situation, probability)
    return next(order.items(clearing.foremost(danger.open), reading_at_pitch=not urgent), None)


def _advised(
    item: Item,
    order: Order,
    gains: Mapping[str, Gain],
    reasoning: Reasoning,
    *,
    bundle: int,
    second: SecondLook | None,
) -> Advised:
    candidate = item.candidate
    decides = [other.tells for other in order.hanging_on(candidate)]
    decides = decides or list(order.answered_under(candidate))
    gain = _gain(item, gains)
    reason = second.reason(item) if second else ""
    return Advised(
        check=item.way.check,
        gain_bits=item.bits,
        minutes=candidate.minutes,
        setup_minutes=item.way.minutes,
        bits_per_minute=item.rate,
        reason=reason
        or reasoning.sentence(item.step, candidate.tells, item.way.check, gain, decides),
        step=item.step,
        setup=item.way.end,
        bundle=bundle,
        if_trait=candidate.if_trait,
        for_derived=None if candidate.tells == item.way.check else candidate.tells,
    )


def _gain(item: Item, gains: Mapping[str, Gain]) -> Gain:
    """Return what an item would tell: nothing is counted for a look that is repeated."""
    told = gains.get(item.candidate.tells) if item.step != "tension" else None
    return told or Gain(item.candidate.tells, 0.0, {})


def _groups(items: Sequence[Item], stop: float) -> list[list[Item]]:
    """Put together what follows each other in one setup, what is worth its minutes apart."""
    groups: list[list[Item]] = []
    for item in items:
        before = groups[-1][-1] if groups else None
        if before is None or item.leg.minutes or _worth(item, stop) != _worth(before, stop):
            groups.append([])
        groups[-1].append(item)
    return groups


def _worth(item: Item, stop: float) -> bool:
    return item.step != "gain" or item.rate >= stop


def _bundle(
    situation: Situation,
    groups: Sequence[Sequence[Item]],
    gains: Mapping[str, Gain],
    reasoning: Reasoning,
) -> Iterator[AdvisedBundle]:
    here = situation.present
    for group in groups:
        first, end = group[0], group[-1].leg.end
        moved = {name: state for name, state in end.items() if here.get(name) != state}
        minutes = sum(item.candidate.minutes for item in group)
        yield AdvisedBundle(
            setup=end,
            checks=tuple(item.way.check for item in group),
            minutes=minutes,
            setup_minutes=first.leg.minutes,
            gain_bits=sum(item.bits for item in group),
            worth_it=_worth(first, situation.checklist.limits.stop_bits_per_minute),
            reason=reasoning.bundle(
                end,
                moved,
                first.leg.minutes,
                minutes,
                [_gain(item, gains) for item in group],
            ),
        )
        here = end


def _beyond(
    situation: Situation, groups: Sequence[Sequence[Item]], budget: float | None
) -> tuple[str, ...]:
    """Return what is worth its minutes but lies past the stage's, if all is done in this order."""
    if budget is None:
        return ()
    stop = situation.checklist.limits.stop_bits_per_minute
    worth = [item for group in groups for item in group if _worth(item, stop)]
    minutes = situation.minutes_used
    for place, item in enumerate(worth):
        minutes += item.leg.minutes + item.candidate.minutes
        if minutes > budget:
            return tuple(item.way.check for item in worth[place:])
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
