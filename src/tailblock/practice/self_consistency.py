"""Does the advice find what the network hides? Inspections of drawn instruments, by three orders.

In: a checklist, a fault, a draw. Out: a `Run` for each order in which the checks were chosen: after
every check the minutes so far, the harm-weighted uncertainty, and whether the fault leads.

The engine is asked about instruments drawn from its own network: this measures the order of the
checks and what the checklist lets anybody see, not whether its numbers are those of real guitars.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any, Literal
from zlib import crc32

import numpy as np

from tailblock.advice.ranking import LEAST_LEAD, RAISED
from tailblock.advice.verdict import PROBABLE
from tailblock.inspection.answers import excluded_by
from tailblock.knowledge.coverage import through
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.levels import levels_of
from tailblock.practice.bench import Bench, Engine
from tailblock.practice.policies import advised, in_order, inspect, shuffled
from tailblock.practice.simulated import draw_instrument

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

    from tailblock.advice import CauseBelief
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition, Trait
    from tailblock.practice.simulated import Hidden

Order = Literal["advice", "random", "fixed"]
ORDERS: tuple[Order, ...] = ("advice", "random", "fixed")
MINUTES = 30.0  # of checks and changes of setup; what ends later does not count
FIRST = 3  # as many as a verdict names
CHECKS = 60  # by which a fault has to lead; a question is one too


@dataclass(frozen=True, slots=True)
class Point:
    """How things stand after a check; the first point is after the complaint, if there is one.

    `uncertainty` in harm-weighted bits, `probability` of the fault that was looked for; `step`: of
    the advice that put the check first, if the advice did. `place`: where the fault stands by lead
    among all faults, 1 for the first, whether those before it are there or not; 0 without a lead.
    """

    check: str
    minutes: float
    uncertainty: float
    probability: float
    leads: bool
    step: str = ""
    place: int = 0

    @property
    def probable(self) -> bool:
        """Return whether the fault stands at 50 % or more, whatever leads before it."""
        return self.probability >= PROBABLE

    @property
    def among_first(self) -> bool:
        """Return whether the fault is one of the first three by lead."""
        return 0 < self.place <= FIRST


@dataclass(frozen=True, slots=True)
class Run:
    """One inspection. `before`: at its end, a fault that is not there and leads before this one."""

    fault: str
    draw: int
    order: Order
    points: tuple[Point, ...]
    before: str

    @property
    def found(self) -> Point | None:
        """Return the first point at which the fault leads, if that is soon enough."""
        return self.first(lambda point: point.leads)

    def first(self, is_so: Callable[[Point], bool]) -> Point | None:
        """Return the first point of which something is so, if that is soon enough."""
        return next((point for point in self.points[: CHECKS + 1] if is_so(point)), None)

    @property
    def checks(self) -> int | None:
        """Return after how many checks the fault leads."""
        return self.points.index(self.found) if self.found else None

    def uncertainty_at(self, minutes: float) -> float:
        """Return the harm-weighted uncertainty [bits] when so many minutes have been used."""
        return [p.uncertainty for p in self.points if p.minutes <= minutes][-1]

    def as_data(self) -> dict[str, Any]:
        """Return the run as plain data, for a line of JSON."""
        return asdict(self)


def from_data(data: Mapping[str, Any]) -> Run:
    """Return the run that `as_data` wrote."""
    points = tuple(Point(**point) for point in data["points"])
    return Run(data["fault"], data["draw"], data["order"], points, data["before"])


class Trials:
    """Runs of one checklist. Engines are kept: draws of the same number share their traits."""

    def __init__(self, checklist: Checklist, stage: str, fixed: Sequence[str]) -> None:
        """Take the checks of a master's order as `fixed`; those that do not apply are left out."""
        self.checklist = checklist
        self._stage = stage
        self._fixed = tuple(fixed)
        self._engines: dict[tuple[tuple[str, str], ...], Engine] = {}

    def run(self, fault: str, draw: int, order: Order) -> Run:
        """Inspect an instrument that has the fault, until the minutes are used or all is read.

        The instrument is the same for every order, and so is the complaint that it comes in with.
        Checks are chosen after the fault leads, too: the uncertainty is wanted for all minutes.
        """
        traits = drawn_traits(self.checklist, draw, self.checklist.faults[fault].applies_when)
        key = tuple(sorted(traits.items()))
        if key not in self._engines:
            self._engines[key] = Engine(self.checklist, traits, self._stage)
        seed = crc32(f"{fault} {draw}".encode())
        hidden = draw_instrument(self.checklist, traits, seed, (fault,))
        bench = Bench(self._engines[key], hidden)
        complaint = complaint_of(hidden, fault)
        if complaint:
            bench.do(complaint)
        policies = {
            "advice": advised,
            "random": in_order(shuffled(self.checklist, seed)),
            "fixed": in_order(self._fixed),
        }
        points = [_point(complaint or "", bench, fault, hidden.faults)]
        last = bench.known
        for chosen in inspect(bench, policies[order], MINUTES):
            last = bench.known
            points.append(_point(chosen.check, bench, fault, hidden.faults, chosen.step))
        ahead = () if leads(fault, last.causes, hidden.faults) else _ahead(fault, last.causes)
        before = next((cause.id for cause in ahead if cause.id not in hidden.faults), "")
        return Run(fault, draw, order, tuple(points), before)


def leads(fault: str, causes: Sequence[CauseBelief], there: Collection[str]) -> bool:
    """Return whether a fault is said to be there, and nothing that is not there leads before it.

    It is probable and the readings raised it, as the verdict asks. What never leads, since it
    weighs nothing or is about the past, need only be that.
    """
    own = next(cause for cause in causes if cause.id == fault)
    if own.probability < PROBABLE:
        return False
    if not own.lead:
        return own.decibans >= RAISED
    return own.lead >= LEAST_LEAD and all(cause.id in there for cause in _ahead(fault, causes))


def complaint_of(hidden: Hidden, fault: str) -> str | None:
    """Return the complaint that an instrument comes in with because of a fault.

    Of the questions to the player that show the fault, itself or by a symptom, and that this one's
    player answers with anything but the normal, one is drawn; None if there is none, and the fault
    is one that nobody complains of.
    """
    shows = through(hidden.checklist)[fault]
    voiced = [
        check.id
        for check in shows.values()
        if check.asked == "player"
        and not check.setup
        and check.id in hidden.levels
        and hidden.levels[check.id] != levels_of(check).ids[levels_of(check).normal]
    ]
    return voiced[hidden.seed % len(voiced)] if voiced else None


def drawn_traits(checklist: Checklist, draw: int, wanted: Condition) -> dict[str, str]:
    """Return traits drawn by their shares, and every one settled, so that a condition holds.

    A trait without shares takes its default, or the first value that the condition allows. Draws
    of the same number are alike but for what the condition asks.
    """
    traits = {}
    for place, (name, trait) in enumerate(checklist.traits.items()):
        dice = np.random.default_rng([draw, place])
        traits[name] = _drawn_value(trait, wanted.get(name), dice)
    excluded = excluded_by(wanted, traits, checklist)
    assert excluded is None, excluded  # noqa: S101  lint sees to it that a condition can hold
    return traits


def _drawn_value(trait: Trait, wanted: tuple[str, ...] | None, dice: np.random.Generator) -> str:
    values = [value for value in trait.values if value != UNKNOWN]
    shares = np.array([trait.shares.get(value, 0.0) for value in values])
    if shares.any():
        usual = values[dice.choice(len(values), p=shares / shares.sum())]
    else:
        usual = trait.default or values[0]
    return usual if wanted is None or usual in wanted else _known(wanted)


def _known(wanted: tuple[str, ...]) -> str:
    return next(value for value in wanted if value != UNKNOWN)


def _point(check: str, bench: Bench, fault: str, there: Collection[str], step: str = "") -> Point:
    known = bench.known
    return Point(
        check,
        bench.minutes,
        known.uncertainty,
        known.probability[fault],
        leads(fault, known.causes, there),
        step,
        _place(fault, known.causes),
    )


def _place(fault: str, causes: Sequence[CauseBelief]) -> int:
    own = next(cause for cause in causes if cause.id == fault)
    return 1 + sum(cause.lead > own.lead for cause in causes) if own.lead else 0


def _ahead(fault: str, causes: Sequence[CauseBelief]) -> Iterator[CauseBelief]:
    """Yield the probable faults that lead before one."""
    own = next(cause for cause in causes if cause.id == fault)
    for cause in sorted(causes, key=lambda cause: -cause.lead):
        if cause.lead > own.lead and cause.probability >= PROBABLE:
            yield cause
