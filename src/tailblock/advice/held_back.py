"""What must not be done yet, because a fault that tension could finish has not been cleared.

In: the probabilities, the candidates with their gains, which faults each check shows, what a person
has accepted. Out: the held-back states and checks, each with the looks that could clear it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.ranking import weights
from tailblock.advice.results import HeldBack, MayString
from tailblock.knowledge.words import stands_above

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate, Way
    from tailblock.advice.gain import Gain
    from tailblock.advice.situation import Situation
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault, Scales

LIKELY = 0.50  # from here on a danger fault means: slacken now, and do not string
FAST = frozenset({"weeks", "any-moment"})
LOOKS_EACH = 3  # looks named for a danger: more would be read before any is done


@dataclass(frozen=True, slots=True)
class Danger:
    """The danger faults above the limit, the most probable first, as a person has taken them.

    `open`: those that hold moves back. `accepted`: those that somebody goes on against.
    """

    open: tuple[str, ...]
    accepted: tuple[str, ...]

    @property
    def all(self) -> tuple[str, ...]:
        """Return both kinds, the open ones first."""
        return self.open + self.accepted


def open_danger(checklist: Checklist, probability: Mapping[str, float]) -> tuple[str, ...]:
    """Return the faults that hold tension back, each by itself, the most probable first.

    Danger faults above the limit; and what is to be watched in tension, moves within weeks and is
    as likely as not: a slack bolt is tightened, and a ball end seated, before the string pulls.
    """
    above = [
        fault
        for fault, chance in probability.items()
        if stands_above(chance, _limit(checklist.faults[fault], checklist.limits))
    ]
    return tuple(sorted(above, key=lambda fault: -probability[fault]))


def _limit(fault: Fault, scales: Scales) -> float:
    """Return the probability above which a fault holds tension back, 1 if it never does."""
    if fault.under_tension == "danger":
        return scales.danger
    moving = fault.under_tension == "watch" and fault.pace in FAST and fault.kind == "condition"
    return LIKELY if moving else 1.0


def danger_of(
    checklist: Checklist, probability: Mapping[str, float], accepted: Collection[str]
) -> Danger:
    """Return the danger faults above the limit; what is accepted keeps its probability."""
    above = open_danger(checklist, probability)
    return Danger(
        open=tuple(fault for fault in above if fault not in accepted),
        accepted=tuple(fault for fault in above if fault in accepted),
    )


def slacken_now(situation: Situation, probability: Mapping[str, float]) -> tuple[str, ...]:
    """Return the danger faults for which an instrument at pitch is slackened before all else.

    What a person has accepted is named all the same: it lifts what is held back, not the advice.
    """
    if not situation.at_pitch:
        return ()
    above = open_danger(situation.checklist, probability)
    return tuple(fault for fault in above if probability[fault] >= LIKELY)


class Clearing:
    """Which unread checks could clear a danger fault, and how well."""

    def __init__(
        self,
        checklist: Checklist,
        found: Sequence[Candidate],
        gains: Mapping[str, Gain],
        shown: Mapping[str, Collection[str]],
    ) -> None:
        """Keep the harmless looks that need no more tension than now.

        What the player says is free and weak: it points, but it clears no danger.
        """
        self._weights = weights(checklist)
        self._stop = checklist.limits.stop_bits_per_minute
        self._gains = gains
        self._shown = shown
        self._calm = [
            (c, c.calm_way)
            for c in found
            if c.harmless and c.calm_way is not None and checklist.checks[c.tells].asked == "bench"
        ]

    def ordered(self, faults: Collection[str]) -> tuple[Candidate, ...]:
        """Return what tells anything about any of these faults, most weighted bits a minute first.

        Only checks that show a fault count, directly or through a symptom: a danger fault is not
        cleared by what is known about its neighbours.
        """
        return tuple(candidate for candidate, _ in self._telling(faults))

    def foremost(self, faults: Collection[str]) -> tuple[Candidate, ...]:
        """Return of `ordered` the best looks at each fault: after each all is weighed anew.

        What tells less of the danger than a minute has to be worth waits for its turn by gain.
        """
        best = {
            c.tells
            for fault in faults
            for c, way in self._telling((fault,))[:LOOKS_EACH]
            if self._rate(c, way, faults) >= self._stop
        }
        return tuple(candidate for candidate in self.ordered(faults) if candidate.tells in best)

    def checks(self, faults: Collection[str]) -> tuple[str, ...]:
        """Return the ids of the checks to do, best first, each once."""
        return tuple(dict.fromkeys(way.check for _, way in self._telling(faults)))

    def none_for(self, faults: Sequence[str]) -> tuple[str, ...]:
        """Return those of the faults about which no look tells anything, each by itself."""
        return tuple(fault for fault in faults if not self._telling((fault,)))

    def _telling(self, faults: Collection[str]) -> list[tuple[Candidate, Way]]:
        rates = [(self._rate(c, way, faults), place) for place, (c, way) in enumerate(self._calm)]
        best = sorted((entry for entry in rates if entry[0] > 0.0), key=lambda entry: -entry[0])
        return [self._calm[place] for _, place in best]

    def _rate(self, candidate: Candidate, way: Way, faults: Collection[str]) -> float:
        about = self._gains[candidate.tells].about
        shown = self._shown[candidate.tells]
        bits = sum(self._weights[f] * about.get(f, 0.0) for f in faults if f in shown)
        return bits / (candidate.minutes + way.minutes)


def held_back(
    situation: Situation, found: Sequence[Candidate], danger: Danger, clearing: Clearing
) -> tuple[HeldBack, ...]:
    """Return every state of more tension than now and every unread check that adds load.

    Each is held by the open danger faults; what only accepted ones would hold is listed with
    `accepted`. At pitch there is no higher state, and nothing that adds no load is held.
    """
    groups = ((danger.open, False), (danger.accepted, True))
    looks = [
        (because, clearing.checks(because), clearing.none_for(because), accepted)
        for because, accepted in groups
        if because
    ]
    return tuple(
        HeldBack(setup, check, *look)
        for look in looks
        for setup, check in _targets(situation, found)
    )


def _targets(
    situation: Situation, found: Sequence[Candidate]
) -> Iterator[tuple[Mapping[str, str] | None, str | None]]:
    for setup in situation.map.above(situation.present):
        yield setup, None
    for check in dict.fromkeys(check for candidate in found for check in candidate.loading):
        yield None, check


def may_string(probability: Mapping[str, float], danger: Danger, clearing: Clearing) -> MayString:
    """Return whether the instrument may be brought to pitch.

    `no` if a danger fault is as likely as not, `not-yet` if one is above the limit, else `yes`.
    Acceptance is told beside the answer and does not change it.
    """
    because = tuple(sorted(danger.all, key=lambda fault: -probability[fault]))
    likely = any(probability[fault] >= LIKELY for fault in because)
    return MayString(
        answer="no" if likely else "not-yet" if because else "yes",
        because=because,
        clear_with=clearing.checks(because),
        no_look=clearing.none_for(because),
        accepted=danger.accepted,
    )
