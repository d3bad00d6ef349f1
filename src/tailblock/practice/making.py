"""From a state of all faults and symptoms to what every check would find.

In: a compiled network with its checklist, a state of its nodes, dice. Out: a level for each check
and a true value for each measured one.

A derived check and its inputs are one geometry. The network has them independent given the faults,
so inputs are redrawn until the derived values come out at the levels that were drawn for them: of
all laws under which those are as the network says, that is the one nearest to the inputs' own. Left
out are derived checks of later stages, those that need the scale length, and those of one check in
two setups, whose difference is always zero here.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.inference.outcomes import say
from tailblock.inspection.derive import derived
from tailblock.inspection.groups import Measured
from tailblock.inspection.likelihood import shares
from tailblock.inspection.record import Instrument, Visit
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import limits_for
from tailblock.measures.uncertainty import closed_bands, gauge_uncertainty
from tailblock.practice.days import DAY, NOWHERE
from tailblock.practice.gauge import gauge, possible

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    import numpy as np

    from tailblock.inference.sampling import States
    from tailblock.inspection.derive import Means
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Measure
    from tailblock.network import Compiled

_AT_ONCE = 64  # so many sets of inputs are drawn together
_ROUNDS = 8  # then the set that fits most derived levels is taken


@dataclass(frozen=True, slots=True)
class Shown:
    """What an instrument shows: check -> true level, measured check -> true value [base unit]."""

    levels: Mapping[str, str]
    values: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class _Bands:
    """The ends of each level of a check, lowest outcome first, if these limits hold."""

    weight: float
    ends: tuple[tuple[float, float], ...]


class Maker:
    """Lets the checks of a network show its states."""

    def __init__(
        self, checklist: Checklist, traits: Mapping[str, str], compiled: Compiled, stage: str
    ) -> None:
        self.checklist = checklist
        self._traits = traits
        self.compiled = compiled
        self._instrument = Instrument("simulated", traits)
        self._visit = Visit(stage, DAY, NOWHERE)
        self._checks = [checklist.checks[name.check] for name in compiled.findings]
        self._finding = {check.id: k for k, check in enumerate(self._checks)}
        self._ids = {check.id: levels_of(check).ids for check in self._checks}
        self._bands = {
            check.id: self._bands_of(check, check.measure)
            for check in self._checks
            if check.measure is not None
        }
        self._geometries = tuple(self._of_one_geometry())

    def shown(self, state: States, dice: np.random.Generator) -> Shown:
        """Return what the checks find, given a state of the nodes: an array of one row."""
        findings = range(len(self._checks))
        said = say(self.compiled.network, findings, state, dice)[0]
        levels = {
            check.id: self._ids[check.id][place]
            for check, place in zip(self._checks, said, strict=True)
        }
        values = {
            check.id: self._true_value(check.id, levels[check.id], dice)
            for check in self._checks
            if check.measure is not None and check.derived is None
        }
        for inputs, made in self._geometries:
            self._fit(inputs, made, levels, values, (state, dice))
        return Shown(levels, values)

    def _bands_of(self, check: Check, measure: Measure) -> tuple[_Bands, ...]:
        u = gauge_uncertainty(*gauge(measure))
        least, most = possible(measure)
        found = []
        for limits in limits_for(check, self._traits, self.checklist):
            edges = edges_of(limits.limits, measure).values
            ends = [min(max(end, least), most) for end in closed_bands(edges, u)]
            found.append(_Bands(limits.weight, tuple(pairwise(ends))))
        return tuple(found)

    def _true_value(self, check: str, level: str, dice: np.random.Generator) -> float:
        """Return a value even within a level, the end levels as wide as their neighbours.

        Of several limits, because a trait is unknown, one is drawn by its weight.
        """
        choices = self._bands[check]
        weights = [bands.weight for bands in choices]
        bands = choices[dice.choice(len(choices), p=weights) if len(choices) > 1 else 0]
        low, high = bands.ends[self._ids[check].index(level)]
        return float(dice.uniform(low, high))

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
            below = self.checklist.checks[taken.check]
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
            said = say(self.compiled.network, findings, state.repeat(_AT_ONCE, axis=0), dice)
            for row in said:
                new = {
                    name: self._ids[name][place] for name, place in zip(inputs, row, strict=True)
                }
                found = {name: self._true_value(name, level, dice) for name, level in new.items()}
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
        computed = derived(self.checklist, self._instrument, self._visit, means)
        return sum(
            name in computed and self.level(name, computed[name].value) == levels[name]
            for name in made
        )

    def level(self, name: str, value: float) -> str:
        """Return the level of a measured check at a true value [base unit]."""
        check = self.checklist.checks[name]
        fits = shares(self.checklist, self._traits, check, value, 0.0)
        return self._ids[name][fits.index(max(fits))]
