"""A diagnostic order for the wall: which check first, what each answer leads to, where to stop.

In: a checklist, a complaint or a part, what is known of the instrument. Out: `Card`, a decision
tree computed from the network. At each place stands the check that tells most for each minute about
the faults in question, among harmless ones; while a danger is open, nothing that adds tension. What
could be answered is put together in two or three groups, cut where they tell most; chances and
beliefs are exact for the group, through the gauge.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from tailblock.advice.candidates import findings_of
from tailblock.advice.gain import entropy, information
from tailblock.advice.held_back import slacken_now
from tailblock.advice.ranking import weights
from tailblock.errors import TailblockError
from tailblock.inspection.answers import find_check
from tailblock.inspection.interpret import first_setup
from tailblock.inspection.record import Answer, Reading, Visit
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import applies, limits_for
from tailblock.measures.uncertainty import closed_bands, gauge_uncertainty
from tailblock.practice.bench import Engine
from tailblock.practice.days import DAY, NOWHERE
from tailblock.practice.gauge import gauge, possible

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from tailblock.advice.candidates import Candidate, Way
    from tailblock.inference.beliefs import Prediction
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.network.arrays import FloatArray
    from tailblock.practice.known import Known

RARE = 0.01  # who comes here more seldom than this is not led on
NAMED = 0.05  # a fault less probable than this is not named where the card stops
MOST = 3  # faults that are named there

Why = Literal["little", "depth", "rare"]
Group = tuple[str, ...]  # levels that lead to the same place


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


@dataclass(frozen=True, slots=True)
class Option:
    """A check that could stand at a place of the card, with its groups of levels.

    `bits`: what it tells about the faults in question, harm-weighted, as far as the groups tell it.
    `likely`: for each group the likelihood of each true level. `chances`: of each group.
    """

    check: str
    way: Way
    minutes: float
    bits: float
    groups: tuple[Group, ...]
    likely: tuple[FloatArray, ...]
    chances: tuple[float, ...]

    @property
    def rate(self) -> float:
        """Return bits a minute, the change of setup included."""
        return self.bits / (self.minutes + self.way.minutes)


Choose = Callable[[Sequence[Option], Sequence[str]], Option | None]


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
        self, about: str, title: str, faults: Collection[str], complaint: Check | None = None
    ) -> Card:
        weighs = weights(self._checklist)
        self._faults = tuple(
            id_
            for id_ in self._checklist.faults
            if id_ in faults and self._checklist.faults[id_].kind != "event"
        )
        self._matters = np.array([weighs[id_] for id_ in self._faults])
        if not self._matters.any():
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
        open_ = self._open(self.engine.known(visit, likely))
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
        option = self._choose(self._options(known, slack=bool(slackened)), done)
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
        by_chance = sorted(self._faults, key=lambda fault: -known.probability[fault])
        standing = [(fault, known.probability[fault]) for fault in by_chance[:MOST]]
        named = tuple(each for each in standing if each[1] >= NAMED)
        return Stop(why, named, self._open(known))

    def _to_slacken(self, known: Known) -> tuple[str, ...]:
        urgent = slacken_now(known.situation, known.probability)
        return tuple(fault for fault in urgent if fault in self._faults)

    def _open(self, known: Known) -> float:
        chances = np.array([known.probability[fault] for fault in self._faults])
        return float(self._matters @ entropy(chances))

    def _options(self, known: Known, *, slack: bool) -> list[Option]:
        """Return the harmless looks at the faults in question that could be next.

        `slack`: it is to be slackened, so that nothing is left that only pitch can show.
        """
        found = [one for one in known.found if self._fits(one, known)]
        found = [one for one in found if not (slack and self._needs_pitch(one, known))]
        findings = findings_of(self.engine.compiled, found)
        told = zip(found, known.reasoner.predict(findings), strict=True)
        options = [self._option(one, prediction, known) for one, prediction in told]
        return [option for option in options if option.bits > 0.0]

    def _fits(self, one: Candidate, known: Known) -> bool:
        way = one.calm_way if known.held else one.way
        return (
            one.tells == one.check
            and way is not None
            and one.harmless
            and self._checklist.checks[one.check].asked == "bench"
            and not self.engine.shows[one.tells].isdisjoint(self._faults)
            and one.minutes + way.minutes > 0.0
        )

    def _needs_pitch(self, one: Candidate, known: Known) -> bool:
        tension = self._checklist.setups.tension
        wanted = self._checklist.checks[one.check].setup.get(tension)
        ways = known.situation.map
        return bool(wanted) and all(ways.at_pitch({tension: state}) for state in wanted or ())

    def _option(self, one: Candidate, prediction: Prediction, known: Known) -> Option:
        check = self._checklist.checks[one.check]
        nodes = [self.engine.compiled.node_of(fault) for fault in self._faults]
        about = prediction.posterior[:, nodes]
        sure = np.eye(len(prediction.chance))
        gauge_ = self.engine.through_gauge.get(check.id, sure)
        best: tuple[float, tuple[Group, ...], FloatArray] | None = None
        for groups in _groupings(check):
            ids = levels_of(check).ids
            member = np.array([[float(level in group) for group in groups] for level in ids])
            mixed = gauge_ @ member
            bits = float(information(prediction.chance, about, mixed) @ self._matters)
            if best is None or bits > best[0]:
                best = (bits, groups, mixed)
        assert best is not None  # noqa: S101  every check has two levels at least
        bits, groups, mixed = best
        way = one.calm_way if known.held else one.way
        assert way is not None  # noqa: S101  as `_fits` has seen
        chances = tuple((prediction.chance @ mixed).tolist())
        return Option(check.id, way, one.minutes, bits, groups, tuple(mixed.T), chances)

    def _answered(self, visit: Visit, check: Check, level: str, setup: Setup) -> Visit:
        """Return a visit with an answer at a level; its likelihood is told apart."""
        answer = Answer(level=level)
        if check.measure is not None:
            answer = Answer(value=self._middle(check, level))
        reading = Reading(check.id, "", answer, setup, NOWHERE)
        return replace(visit, readings=(*visit.readings, reading))

    def _middle(self, check: Check, level: str) -> float:
        """Return the value in the middle of a level [base unit]."""
        assert check.measure is not None  # noqa: S101  only measured checks are asked for
        limits = max(
            limits_for(check, self._traits, self._checklist), key=lambda one: one.weight
        ).limits
        edges = edges_of(limits, check.measure).values
        ends = closed_bands(edges, gauge_uncertainty(*gauge(check.measure)))
        least, most = possible(check.measure)
        place = levels_of(check).ids.index(level)
        low, high = (min(max(end, least), most) for end in ends[place : place + 2])
        return (low + high) / 2


def _groupings(check: Check) -> Iterator[tuple[Group, ...]]:
    """Yield the ways in which answers can be put together, the level nearest to normal first.

    Two sides of normal are three groups; one side is cut in two at any place.
    """
    levels = levels_of(check)
    if levels.low and levels.high:
        normal = levels.ids[levels.normal]
        yield levels.low, (normal,), levels.high
        return
    for cut in range(1, len(levels.ids)):
        below, above = levels.ids[:cut], levels.ids[cut:]
        yield below[::-1] if levels.low else below, above
