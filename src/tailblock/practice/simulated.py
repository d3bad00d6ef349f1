"""An instrument drawn from the network, which answers any check as one that has its faults would.

In: a checklist, traits, a seed, and faults that it must have. Out: `Hidden`, whose answers hang
together: all faults and symptoms are one exact draw from their joint distribution, and what each
check shows is drawn once, given them. The same seed makes the same instrument.

What a measured check finds is one true value, even within its level, in every setup. A reading of
it has the error of the gauge on top: the hand's spread, then the gauge's step. Near a limit it may
therefore report the neighbouring level, as the engine expects of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING
from zlib import crc32

import numpy as np

from tailblock.errors import TailblockError
from tailblock.inference import Reasoner
from tailblock.inspection.answers import excluded_by, find_check, require_setup
from tailblock.inspection.groups import counting
from tailblock.inspection.record import Answer
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.practice.days import DAY
from tailblock.practice.gauge import read
from tailblock.practice.making import Maker

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping
    from pathlib import Path

    from tailblock.inference.sampling import States
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined


class FaultDoesNotApply(TailblockError):
    """An instrument of these traits cannot have the fault."""

    def __init__(self, fault: str, trait: str, value: str, wanted: Collection[str]) -> None:
        self.fault, self.trait = fault, trait
        super().__init__(
            f"{fault} does not apply: {trait} is {value} (it is for {trait} {', '.join(wanted)})"
        )


class SampledOnly(TailblockError):
    """No instrument can be drawn where probabilities are only sampled."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path}: exact probabilities are out of reach for so many visits and readings "
            "(take a case with fewer visits)"
        )


@dataclass(frozen=True, slots=True)
class Hidden:
    """An instrument whose faults are known to nobody at the bench.

    `faults` and `symptoms` are those that are there. `levels`: check -> the level that is true of
    it, for every check that applies. `values`: measured check -> its true value [base unit].
    """

    checklist: Checklist
    traits: Mapping[str, str]
    seed: int
    faults: frozenset[str]
    symptoms: frozenset[str]
    levels: Mapping[str, str]
    values: Mapping[str, float]

    def answer(self, name: str, setup: Setup, times: int = 0) -> Answer:
        """Return what a check finds in a setup.

        Parameters
        ----------
        name
            The id of a check.
        setup
            Every dimension given.
        times
            How often it has been read in this setup before. A second reading with the gauge has an
            error of its own; the same question gets the same answer.

        Raises
        ------
        NoSuchCheck, DerivedCheck, CheckDoesNotApply, WrongSetup
        """
        check = find_check(name, self.checklist, self.traits)
        require_setup(check, setup)
        if check.measure is None:
            return Answer(level=self.levels[name])
        asked = f"{name} {sorted(setup.items())} {times}"
        dice = np.random.default_rng([self.seed, crc32(asked.encode())])
        return Answer(value=read(check.measure, self.values[name], dice))


def draw_instrument(
    checklist: Checklist,
    traits: Mapping[str, str],
    seed: int,
    having: Collection[str] = (),
    without: Collection[str] = (),
) -> Hidden:
    """Return an instrument of these traits, drawn given that it has some faults.

    Parameters
    ----------
    traits
        Trait -> value; what is missing or `unknown` is averaged over its shares, as everywhere.
    seed
        Not negative.
    having
        Ids of faults that are there; whatever else is, the network draws.
    without
        Ids of faults that are not there.

    Raises
    ------
    FaultDoesNotApply
        An instrument of these traits cannot have one of the faults.
    ImpossibleEvidence
        The faults cannot be there together.
    """
    return next(draw_instruments(checklist, traits, (seed,), having, without))


def draw_instruments(
    checklist: Checklist,
    traits: Mapping[str, str],
    seeds: Iterable[int],
    having: Collection[str] = (),
    without: Collection[str] = (),
) -> Iterator[Hidden]:
    """Yield an instrument for each seed, as `draw_instrument` does; the network is made once."""
    for fault in having:
        excluded = excluded_by(checklist.faults[fault].applies_when, traits, checklist)
        if excluded:
            raise FaultDoesNotApply(fault, excluded.trait, excluded.value, excluded.wanted)
    stage = next(iter(checklist.stages), "arrival")
    compiled = compile_network(checklist, traits, [VisitSkeleton(stage, DAY)])
    known = {name.id for name in compiled.nodes}
    there = {compiled.node_of(fault): False for fault in without if fault in known}
    there |= {compiled.node_of(fault): True for fault in having}
    reasoner = Reasoner(compiled.network, Evidence({}, there))
    maker = Maker(checklist, traits, compiled, stage)
    for seed in seeds:
        dice = np.random.default_rng(seed)
        state = reasoner.draw(1, dice)
        yield _hidden(maker, traits, seed, state, dice)


def as_it_came_in(examined: Examined, seed: int) -> Hidden:
    """Return the instrument of an inspection as it was on its first visit.

    What was read on that visit is what its checks find, a measured value as the true one; all else
    is drawn given everything that was read and confirmed on any visit.

    Raises
    ------
    SampledOnly
        Exact inference is out of reach for this inspection.
    """
    if examined.exactly is None:
        raise SampledOnly(examined.inspection.path)
    checklist, inspection = examined.checklist, examined.inspection
    traits, first = inspection.instrument.traits, inspection.visits[0]
    compiled = compile_network(checklist, traits, [VisitSkeleton(first.stage, DAY)])
    dice = np.random.default_rng(seed)
    drawn = examined.exactly.draw(1, dice)
    then = [examined.compiled.node_of(name.id, 0) for name in compiled.nodes]
    maker = Maker(checklist, traits, compiled, first.stage)
    hidden = _hidden(maker, traits, seed, drawn[:, then], dice)
    levels, values = dict(hidden.levels), dict(hidden.values)
    for _, reading in counting(first):
        name, answer = reading.check, reading.answer
        if answer.value is not None:
            values[name] = answer.value
            levels[name] = maker.level(name, answer.value)
        elif answer.level is not None:
            levels[name] = answer.level
    return replace(hidden, levels=levels, values=values)


def _hidden(
    maker: Maker, traits: Mapping[str, str], seed: int, state: States, dice: np.random.Generator
) -> Hidden:
    """Return the instrument of a state: an array of one row."""
    checklist = maker.checklist
    shown = maker.shown(state, dice)
    ids = {name.id for name, there in zip(maker.compiled.nodes, state[0], strict=True) if there}
    return Hidden(
        checklist,
        traits,
        seed,
        frozenset(ids & checklist.faults.keys()),
        frozenset(ids & checklist.symptoms.keys()),
        shown.levels,
        shown.values,
    )
