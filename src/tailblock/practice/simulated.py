"""An instrument drawn from the network, which answers any check as one that has its faults would.

In: a checklist, traits, a seed, and faults that it must have. Out: `Hidden`, whose answers hang
together: all faults and symptoms are one exact draw from their joint distribution, and what each
check shows is drawn once, given them. The same seed makes the same instrument.

What a measured check finds is one true value, even within its level, in every setup. A reading of
it has the error of the gauge on top: the hand's spread, then the gauge's step. Near a limit it may
therefore report the neighbouring level, as the engine expects of it.

A derived check and its inputs are one geometry. The network has them independent given the faults,
so inputs are redrawn until the derived values come out at the levels that were drawn for them: of
all laws under which those are as the network says, that is the one nearest to the inputs' own. Left
out are derived checks of later stages, those that need the scale length, and those of one check in
two setups, whose difference is always zero here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING
from zlib import crc32

import numpy as np

from tailblock.errors import TailblockError
from tailblock.inference import Reasoner
from tailblock.inference.outcomes import say
from tailblock.inspection.answers import excluded_by, find_check, require_setup
from tailblock.inspection.derive import derived
from tailblock.inspection.groups import Measured
from tailblock.inspection.likelihood import shares
from tailblock.inspection.record import Answer, Instrument, Visit
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.knowledge.yamlmarks import Place
from tailblock.measures.uncertainty import closed_bands, gauge_uncertainty
from tailblock.measures.units import parse
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from tailblock.inference.sampling import States
    from tailblock.inspection.derive import Means
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure
    from tailblock.network import Compiled

# Not a real day: the network of a single visit does not depend on it.
DAY = date(2000, 1, 1)
NOWHERE = Place("simulated", 1, 1)
_AT_ONCE = 64  # so many sets of inputs are drawn together
_ROUNDS = 8  # then the set that fits most derived levels is taken


class FaultDoesNotApply(TailblockError):
    """An instrument of these traits cannot have the fault."""

    def __init__(self, fault: str, trait: str, value: str, wanted: Collection[str]) -> None:
        self.fault, self.trait = fault, trait
        super().__init__(
            f"{fault} does not apply: {trait} is {value} (it is for {trait} {', '.join(wanted)})"
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
        return Answer(value=_read(check.measure, self.values[name], dice))


def draw_instrument(
    checklist: Checklist, traits: Mapping[str, str], seed: int, having: Collection[str] = ()
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

    Raises
    ------
    FaultDoesNotApply
        An instrument of these traits cannot have one of the faults.
    ImpossibleEvidence
        The faults cannot be there together.
    """
    return next(draw_instruments(checklist, traits, (seed,), having))


def draw_instruments(
    checklist: Checklist,
    traits: Mapping[str, str],
    seeds: Iterable[int],
    having: Collection[str] = (),
) -> Iterator[Hidden]:
    """Yield an instrument for each seed, as `draw_instrument` does; the network is made once."""
    for fault in having:
        excluded = excluded_by(checklist.faults[fault].applies_when, traits, checklist)
        if excluded:
            raise FaultDoesNotApply(fault, excluded.trait, excluded.value, excluded.wanted)
    stage = next(iter(checklist.stages), "arrival")
    compiled = compile_network(checklist, traits, [VisitSkeleton(stage, DAY)])
    there = {compiled.node_of(fault): True for fault in having}
    reasoner = Reasoner(compiled.network, Evidence({}, there))
    maker = _Maker(checklist, traits, compiled, stage)
    for seed in seeds:
        dice = np.random.default_rng(seed)
        yield maker.instrument(seed, reasoner.draw(1, dice), dice)


class _Maker:
    """Turns states of the nodes into instruments."""

    def __init__(
        self, checklist: Checklist, traits: Mapping[str, str], compiled: Compiled, stage: str
    ) -> None:
        self._checklist = checklist
        self._traits = traits
        self._compiled = compiled
        self._instrument = Instrument("simulated", traits)
        self._visit = Visit(stage, DAY, NOWHERE)
        self._checks = [checklist.checks[name.check] for name in compiled.findings]
        self._finding = {check.id: k for k, check in enumerate(self._checks)}
        self._geometries = tuple(self._of_one_geometry())

    def instrument(self, seed: int, state: States, dice: np.random.Generator) -> Hidden:
        """Return the instrument of one state; all else is drawn from `dice`."""
        findings = range(len(self._checks))
        said = say(self._compiled.network, findings, state, dice)[0]
        levels = {
            check.id: levels_of(check).ids[place]
            for check, place in zip(self._checks, said, strict=True)
        }
        values = {
            check.id: self._true_value(check, levels[check.id], dice)
            for check in self._checks
            if check.measure is not None and check.derived is None
        }
        for inputs, made in self._geometries:
            self._fit(inputs, made, levels, values, (state, dice))
        nodes = {
            name.id for name, there in zip(self._compiled.nodes, state[0], strict=True) if there
        }
        return Hidden(
            self._checklist,
            self._traits,
            seed,
            frozenset(nodes & self._checklist.faults.keys()),
            frozenset(nodes & self._checklist.symptoms.keys()),
            levels,
            values,
        )

    def _true_value(self, check: Check, level: str, dice: np.random.Generator) -> float:
        """Return a value even within a level, the end levels as wide as their neighbours.

        Of several limits, because a trait is unknown, one is drawn by its weight.
        """
        assert check.measure is not None  # noqa: S101  only called for measured checks
        choices = limits_for(check, self._traits, self._checklist)
        place = dice.choice(len(choices), p=[choice.weight for choice in choices])
        edges = edges_of(choices[place].limits, check.measure).values
        bands = pairwise(closed_bands(edges, _uncertainty(check.measure)))
        low, high = list(bands)[levels_of(check).ids.index(level)]
        least, most = _possible(check.measure)
        return float(dice.uniform(max(low, least), min(high, most)))

    def _of_one_geometry(self) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
        """Yield measured inputs with the derived checks that rest on them and on no others."""
        groups: list[tuple[set[str], set[str]]] = []
        for check in filter(self._computable, self._checks):
            inputs = set(self._inputs(check))
            made = {check.id}
            for group in [group for group in groups if group[0] & inputs]:
                groups.remove(group)
                inputs |= group[0]
                made |= group[1]
            groups.append((inputs, made))
        for inputs, made in groups:
            yield tuple(sorted(inputs)), tuple(sorted(made))

    def _computable(self, check: Check) -> bool:
        """Return whether the true values decide a derived check."""
        inputs = [taken.check for taken in check.from_.values() if taken.check is not None]
        return (
            check.derived is not None
            and (not check.stages or self._visit.stage in check.stages)
            and len(inputs) == len(set(inputs)) == len(check.from_)
            and set(self._inputs(check)) <= self._finding.keys()
        )

    def _inputs(self, check: Check) -> Iterator[str]:
        """Yield the measured checks that a derived one rests on in the end."""
        for taken in check.from_.values():
            if taken.check is None:
                continue
            below = self._checklist.checks[taken.check]
            if below.derived is None:
                yield below.id
            else:
                yield from self._inputs(below)

    def _fit(
        self,
        inputs: tuple[str, ...],
        made: tuple[str, ...],
        levels: dict[str, str],
        values: dict[str, float],
        drawn: tuple[States, np.random.Generator],
    ) -> None:
        """Redraw inputs, in place, until the derived values come out at their levels.

        A set that fits them all may be out of reach; then the one that fits most is taken.
        """
        state, dice = drawn
        found = {name: values[name] for name in inputs}
        best = self._fitting(found, made, levels)
        for _ in range(_ROUNDS):
            if best == len(made):
                return
            findings = [self._finding[name] for name in inputs]
            said = say(self._compiled.network, findings, state.repeat(_AT_ONCE, axis=0), dice)
            for row in said:
                new = {
                    name: levels_of(self._checklist.checks[name]).ids[place]
                    for name, place in zip(inputs, row, strict=True)
                }
                found = {
                    name: self._true_value(self._checklist.checks[name], level, dice)
                    for name, level in new.items()
                }
                fitting = self._fitting(found, made, levels)
                if fitting > best:
                    best = fitting
                    levels |= new
                    values |= found
                if best == len(made):
                    return

    def _fitting(
        self, found: Mapping[str, float], made: tuple[str, ...], levels: Mapping[str, str]
    ) -> int:
        """Return how many derived values come out at their level."""
        means: Means = {name: (Measured(value, 0.0, (), {}),) for name, value in found.items()}
        computed = derived(self._checklist, self._instrument, self._visit, means)
        return sum(
            name in computed and self._level(name, computed[name].value) == levels[name]
            for name in made
        )

    def _level(self, name: str, value: float) -> str:
        check = self._checklist.checks[name]
        fits = shares(self._checklist, self._traits, check, value, 0.0)
        return levels_of(check).ids[fits.index(max(fits))]


def _read(measure: Measure, true: float, dice: np.random.Generator) -> float:
    """Return what a gauge shows of a true value, within what is possible."""
    resolution, repeatability = _gauge(measure)
    moved = true + repeatability * float(dice.standard_normal())
    shown = round(moved / resolution) * resolution if resolution > 0.0 else moved
    least, most = _possible(measure)
    return min(max(shown, least), most)


def _uncertainty(measure: Measure) -> float:
    return gauge_uncertainty(*_gauge(measure))


def _gauge(measure: Measure) -> tuple[float, float]:
    """Return resolution and repeatability [base unit]."""
    resolution, repeatability = (
        parse(text, measure.quantity, measure.unit, difference=True).quantity.value
        for text in (measure.gauge.resolution, measure.gauge.repeatability)
    )
    return resolution, repeatability


def _possible(measure: Measure) -> tuple[float, float]:
    """Return the least and the most that the quantity can be [base unit]."""
    low, high = (
        None if end is None else parse(end, measure.quantity, measure.unit).quantity.value
        for end in (measure.possible.from_, measure.possible.to)
    )
    return -np.inf if low is None else low, np.inf if high is None else high
