"""Gates: checks that decide whether other readings of the visit count, and how far to trust them.

In: the answers of one visit. Out: for any check, in any setup, what the gates do to its reading. A
gate acts on the checks that it names (or on all of a quantity) and on no others: a reading that it
silences still serves a derived check, which a gate must name itself. An answer in levels has no
uncertainty to widen; only `no-evidence` acts on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, cast

from tailblock.inspection.likelihood import shares
from tailblock.knowledge.entries import Widen
from tailblock.knowledge.levels import edges_of, levels_of
from tailblock.knowledge.traits import applies, limits_for
from tailblock.measures.units import parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.groups import Graded, Measured
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Gate, Measure


@dataclass(frozen=True, slots=True)
class Effect:
    """What the gates do to a reading.

    `silenced_by` is the id of the gate that leaves no evidence, with its reason and the checklist's
    own words on it; else `u` is the standard uncertainty to be added in quadrature [base unit], and
    `widened_by` the gates' ids.
    """

    silenced_by: str = ""
    reason: str = ""
    why: str = ""
    u: float = 0.0
    widened_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Gates:
    """The gates of a visit.

    A gate that was read more than once speaks about a reading by its answer in the same setup, or
    else by its last answer (its reading under most load, if it is measured).
    """

    checklist: Checklist
    traits: Mapping[str, str]
    graded: Mapping[str, tuple[Graded, ...]]
    means: Mapping[str, tuple[Measured, ...]]  # derived ones among them

    def effect(self, check: Check, setup: Setup) -> Effect:
        """Return what the gates do to a reading of a check in a setup (empty: a derived value)."""
        fired: dict[str, float] = {}
        for gate_check in (one for one in self.checklist.checks.values() if one.gate):
            for gate, level in self._firing(gate_check, check, setup):
                if not isinstance(gate.then, Widen):
                    reason = f"{gate_check.title!r} came out as {level.replace('-', ' ')}"
                    return Effect(gate_check.id, reason, gate.why or "")
                if check.measure is not None:
                    u = self._widening(check, check.measure, gate.then)
                    fired[gate_check.id] = max(u, fired.get(gate_check.id, 0.0))
        return Effect(u=hypot(*fired.values()), widened_by=tuple(fired))

    def _firing(self, gate_check: Check, check: Check, setup: Setup) -> Iterator[tuple[Gate, str]]:
        """Yield the gates of one check that act on another, those that leave no evidence first."""
        names = {check.id, check.measure.quantity if check.measure else ""}
        acting = [gate for gate in gate_check.gate if names & set(gate.of)]
        if not acting or not applies(gate_check, self.traits, self.checklist):
            return
        level = self.level(gate_check, setup)
        if level is None:
            return
        for gate in sorted(acting, key=lambda gate: isinstance(gate.then, Widen)):
            if any(levels_of(gate_check).as_bad(level, first) for first in gate.from_):
                yield gate, level

    def level(self, check: Check, setup: Setup) -> str | None:
        """Return the level at which a check came out, preferably in that setup."""
        answers = self.graded.get(check.id, ())
        if answers:
            alike = [answer for answer in answers if answer.setup == setup]
            return (alike or answers)[-1].level
        means = self.means.get(check.id, ())
        if not means:
            return None
        mean = next((mean for mean in means if mean.setup == setup), means[0])
        fits = shares(self.checklist, self.traits, check, mean.value, 0.0)
        return levels_of(check).ids[fits.index(max(fits))]

    def _widening(self, check: Check, measure: Measure, widen: Widen) -> float:
        """Return the standard uncertainty that a gate adds, in the check's base unit."""
        if widen.widen is not None:
            return parse(
                widen.widen, measure.quantity, measure.unit, difference=True
            ).quantity.value
        bands = cast("float", widen.widen_bands)
        return bands * sum(
            weighted.weight
            * _normal_width(check, measure, edges_of(weighted.limits, measure).values)
            for weighted in limits_for(check, self.traits, self.checklist)
        )


def _normal_width(check: Check, measure: Measure, edges: tuple[float, ...]) -> float:
    """Return the width of the normal band; an open end runs to what is possible, or to zero."""
    normal = levels_of(check).normal
    low, high = (
        0.0 if end is None else parse(end, measure.quantity, measure.unit).quantity.value
        for end in (measure.possible.from_, measure.possible.to)
    )
    lower = edges[normal - 1] if normal > 0 else low
    upper = edges[normal] if normal < len(edges) else high
    return abs(upper - lower)
