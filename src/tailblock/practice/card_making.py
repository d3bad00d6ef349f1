"""How a card is made: what stands at each place, and where it stops.

In: a checklist, a complaint or a part, what is known of the instrument. Out: a `Card`, computed
from the network. At each place stands the check that tells most for each minute about the faults in
question; while a danger is open, nothing that adds tension. Chances and beliefs are exact.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.held_back import slacken_now
from tailblock.advice.ranking import weights
from tailblock.errors import TailblockError
from tailblock.inspection.answers import find_check
from tailblock.inspection.interpret import first_setup
from tailblock.inspection.record import Answer, Reading, Visit
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.knowledge.levels import levels_of
from tailblock.knowledge.traits import applies
from tailblock.practice.bench import Engine
from tailblock.practice.card import Branch, Card, Step, Stop
from tailblock.practice.card_options import Option, Question, options
from tailblock.practice.days import DAY, NOWHERE
from tailblock.practice.gauge import middle

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.network.arrays import FloatArray
    from tailblock.practice.card import Why
    from tailblock.practice.known import Known

RARE = 0.01  # who comes here more seldom than this is not led on
NAMED = 0.05  # a fault less probable than this is not named where the card stops
MOST = 3  # faults that are named there

Choose = Callable[[Sequence[Option], Sequence[str]], Option | None]


class NotAComplaint(TailblockError):
    """A check is given that nobody asks the player."""

    def __init__(self, given: str) -> None:
        self.given = given
        super().__init__(
            f"{given}: this is looked at on the bench (name a complaint of the player)"
        )


class NothingInQuestion(TailblockError):
    """No fault that such an instrument can have belongs to the card."""

    def __init__(self, about: str) -> None:
        self.about = about
        super().__init__(f"{about}: no fault of such an instrument weighs anything there")


def by_rate(options: Sequence[Option], _: Sequence[str]) -> Option | None:
    """Choose what tells most for each minute."""
    return max(options, key=lambda option: option.rate, default=None)


def usual_traits(checklist: Checklist, given: Mapping[str, str]) -> dict[str, str]:
    """Return what is given, and of the rest what is usual: averaged where the checklist can."""
    return {
        name: given.get(name) or (UNKNOWN if trait.shares else trait.default or trait.values[0])
        for name, trait in checklist.traits.items()
    }


def card_of_complaint(
    checklist: Checklist,
    complaint: str,
    depth: int,
    given: Mapping[str, str],
    choose: Choose = by_rate,
) -> Card:
    """Return the card for what a player complains of.

    Parameters
    ----------
    depth
        How many checks follow each other at most.
    given
        Trait -> value, of what is known.
    choose
        What stands at a place, of what could; also given what stands before it.

    Raises
    ------
    NoSuchCheck, DerivedCheck, CheckDoesNotApply, NotAComplaint, NothingInQuestion
    """
    traits = usual_traits(checklist, given)
    check = find_check(complaint, checklist, traits)
    if check.asked != "player":
        raise NotAComplaint(complaint)
    maker = _Maker(checklist, traits, depth, choose)
    return maker.card(complaint, check.title, maker.engine.shows[complaint], check)


def card_of_part(
    checklist: Checklist,
    part: str,
    depth: int,
    given: Mapping[str, str],
    choose: Choose = by_rate,
) -> Card:
    """Return the card for a part; see `card_of_complaint`.

    Raises
    ------
    NotInTheChecklist, NothingInQuestion
    """
    if part not in checklist.parts:
        raise NotInTheChecklist("part", part, checklist, checklist.parts)
    traits = usual_traits(checklist, given)
    faults = [
        id_
        for id_, fault in checklist.faults.items()
        if fault.part == part and applies(fault, traits, checklist)
    ]
    maker = _Maker(checklist, traits, depth, choose)
    return maker.card(part, checklist.parts[part].name, faults)


class _Maker:
    def __init__(
        self, checklist: Checklist, traits: Mapping[str, str], depth: int, choose: Choose
    ) -> None:
        self._checklist = checklist
        self._traits = traits
        self._depth = depth
        self._choose = choose
        self._stage = next(iter(checklist.stages), "arrival")
        self.engine = Engine(checklist, traits, self._stage)

    def card(
        self, about: str, title: str, shown: Collection[str], complaint: Check | None = None
    ) -> Card:
        weighs = weights(self._checklist)
        faults = tuple(
            id_
            for id_ in self._checklist.faults
            if id_ in shown and self._checklist.faults[id_].kind != "event"
        )
        self._question = Question(faults, np.array([weighs[id_] for id_ in faults]))
        if not self._question.weights.any():
            raise NothingInQuestion(about)
        visit = Visit(self._stage, DAY, NOWHERE, setup=first_setup(self._checklist))
        likely: dict[str, FloatArray] = {}
        if complaint is not None:
            levels = levels_of(complaint)
            off = np.array([float(place != levels.normal) for place in range(len(levels.ids))])
            likely = {complaint.id: off}
            visit = self._answered(visit, complaint, levels.ids[-1], visit.setup)
        stage = self._checklist.stages.get(self._stage)
        root = self._place(visit, likely, 1.0)
        open_ = self._question.open_bits(self.engine.known(visit, likely).probability)
        opening = stage.opening if stage else ()
        return Card(self._checklist, about, title, self._traits, opening, root, open_)

    def _place(
        self,
        visit: Visit,
        likely: Mapping[str, FloatArray],
        reach: float,
        slackened: frozenset[str] = frozenset(),
    ) -> Step | Stop:
        """Return what stands at a place of the card, and all behind it."""
        known = self.engine.known(visit, likely)
        done = tuple(likely)
        depth = len([name for name in done if self._checklist.checks[name].asked == "bench"])
        if reach < RARE:
            return self._stop(known, "rare")
        found = options(self.engine, known, self._question, slack=bool(slackened))
        option = self._choose(found, done)
        if option is None or option.rate < self._checklist.limits.stop_bits_per_minute:
            return self._stop(known, "little")
        if depth >= self._depth:
            return self._stop(known, "depth")
        check = self._checklist.checks[option.check]
        branches = []
        for levels, column, chance in zip(
            option.groups, option.likely, option.chances, strict=True
        ):
            if chance > 0.0:
                after = self._answered(visit, check, levels[0], option.way.end)
                heard = {**likely, check.id: column}
                now = self._to_slacken(self.engine.known(after, heard))
                then = self._place(after, heard, reach * chance, slackened | {*now})
                new = tuple(fault for fault in now if fault not in slackened)
                branches.append(Branch(levels, chance, new, then))
        way = option.way
        return Step(check.id, check.minutes, way.end, way.minutes, tuple(branches))

    def _stop(self, known: Known, why: Why) -> Stop:
        by_chance = sorted(self._question.faults, key=lambda fault: -known.probability[fault])
        standing = [(fault, known.probability[fault]) for fault in by_chance[:MOST]]
        named = tuple(each for each in standing if each[1] >= NAMED)
        return Stop(why, named, self._question.open_bits(known.probability))

    def _to_slacken(self, known: Known) -> tuple[str, ...]:
        urgent = slacken_now(known.situation, known.probability)
        return tuple(fault for fault in urgent if fault in self._question.faults)

    def _answered(self, visit: Visit, check: Check, level: str, setup: Setup) -> Visit:
        """Return a visit with an answer at a level; its likelihood is told apart."""
        answer = Answer(level=level)
        if check.measure is not None:
            answer = Answer(value=middle(check, level, self._traits, self._checklist))
        reading = Reading(check.id, "", answer, setup, NOWHERE)
        return replace(visit, readings=(*visit.readings, reading))
