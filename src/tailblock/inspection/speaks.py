"""Which readings of a visit speak, each to one thing at most, and why the others are silent.

In: a checklist, the instrument and one visit. Out: `Heard`, the findings that go to the network
and the readings that do not, each with its reason. All of it depends on the set of the readings,
never on their order; only a check with choices takes the last of its answers.

The rules, in this order:

1. A reading that was taken back is out; `unknown` is no evidence and erases nothing.
2. Values of one check in one setup are averaged. A check is one finding a visit: if it was measured
   in two setups the reading under most load speaks, and the others serve the derived checks.
3. Gates silence readings, or widen their uncertainty; see `gates`.
4. Of a family the first member, in the family's order, that has something to say speaks.
5. A derived check with all its inputs speaks, and through it those inputs that look at the same
   fault or symptom, unless they are marked `also_speaks`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

from tailblock.inspection.derive import derived
from tailblock.inspection.gates import Gates
from tailblock.inspection.groups import Measured, graded, measured
from tailblock.knowledge.traits import link_share

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.gates import Effect
    from tailblock.inspection.groups import Graded
    from tailblock.inspection.record import Instrument, Visit
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check


Why = Literal["retracted", "unknown", "answered-again", "less-load", "gate", "family"]


@dataclass(frozen=True, slots=True)
class Spoken:
    """A finding of a visit: a level, or a value with its standard uncertainty [base unit].

    `readings` are the indices in the visit of all readings behind it; `widened_by` the gates that
    added to `u`.
    """

    check: str
    readings: tuple[int, ...]
    level: str | None = None
    value: float | None = None
    u: float | None = None
    widened_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Silent:
    """A reading that gives no evidence, and why.

    `by` is the check that decides it; `note` what the checklist says of the gate, if it is one.
    """

    reading: int
    kind: Why
    reason: str  # the part of a sentence that follows "because"
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Heard:
    """What a visit says.

    `spoken` has the order of the checklist, `silent` that of the visit. `levels` holds the level at
    which each answered or derived check came out, silent ones among them; `gated` the checks that a
    gate keeps from speaking.
    """

    spoken: tuple[Spoken, ...]
    silent: tuple[Silent, ...]
    levels: Mapping[str, str]
    gated: frozenset[str]


def hear(checklist: Checklist, instrument: Instrument, visit: Visit) -> Heard:
    """Decide who speaks on a visit.

    Parameters
    ----------
    checklist
        Gives families, gates and derived checks.
    instrument
        Its traits decide limits and what applies, its scale length may be an input.
    visit
        The readings.

    Returns
    -------
    Heard
        At most one finding a check. Every reading is behind one of them or among the silent; a
        reading that is silent itself but serves a derived check that speaks is behind that one.
    """
    return _Hearing(checklist, instrument, visit).heard()


class _Hearing:
    """Goes through the rules, keeping candidates and the reasons of those that fell out."""

    def __init__(self, checklist: Checklist, instrument: Instrument, visit: Visit) -> None:
        self.checklist = checklist
        self.traits: Mapping[str, str] = instrument.traits
        self.visit = visit
        self.candidates: dict[str, Spoken] = {}
        self.silent: dict[int, Silent] = {}
        self.gated: set[str] = set()
        answers, means = graded(visit), measured(checklist, visit)
        values = derived(checklist, instrument, visit, means)
        known = means | {name: (value,) for name, value in values.items()}
        self.gates = Gates(checklist, instrument.traits, answers, known)
        self.levels = self._levels({*answers, *known})
        self._take_graded(answers)
        widened = {name: self._take_measured(name, found) for name, found in means.items()}
        for name, value in derived(checklist, instrument, visit, widened).items():
            self._take_derived(name, value)

    def heard(self) -> Heard:
        self._unsaid()
        self._families()
        self._inputs()
        order = {name: place for place, name in enumerate(self.checklist.checks)}
        spoken = sorted(self.candidates.values(), key=lambda one: order[one.check])
        used = {index for one in spoken for index in one.readings}
        silent = [one for index, one in sorted(self.silent.items()) if index not in used]
        gated = frozenset(self.gated - self.candidates.keys())
        return Heard(tuple(spoken), tuple(silent), self.levels, gated)

    def _levels(self, names: set[str]) -> Mapping[str, str]:
        """Return the level at which each check came out."""
        checks = (check for name, check in self.checklist.checks.items() if name in names)
        levels = ((check.id, self.gates.level(check, {})) for check in checks)
        return MappingProxyType({name: level for name, level in levels if level is not None})

    def _unsaid(self) -> None:
        """Rule 1: what was taken back and what is unknown."""
        for index, reading in enumerate(self.visit.readings):
            if reading.retracted:
                self.silent[index] = Silent(index, "retracted", "it was taken back")
            elif reading.answer.unknown:
                self.silent[index] = Silent(index, "unknown", "the answer is not known")

    def _take_graded(self, answers: Mapping[str, tuple[Graded, ...]]) -> None:
        """Let the last answer stand for its check, unless a gate silences it."""
        for name, (*earlier, last) in answers.items():
            for answer in earlier:
                reason = "it was answered again later"
                self._silence((answer.reading,), "answered-again", reason, name)
            effect = self.gates.effect(self.checklist.checks[name], last.setup)
            if effect.silenced_by:
                self._gate(name, (last.reading,), effect)
            else:
                self.candidates[name] = Spoken(name, (last.reading,), level=last.level)

    def _take_measured(self, name: str, means: tuple[Measured, ...]) -> tuple[Measured, ...]:
        """Rules 2 and 3; returns the means as they are trusted, for the derived checks."""
        check = self.checklist.checks[name]
        trusted = []
        for mean in means:
            effect = self.gates.effect(check, mean.setup)
            u = hypot(mean.u, effect.u)
            trusted.append(replace(mean, u=u, widened_by=effect.widened_by))
            if effect.silenced_by:
                self._gate(name, mean.readings, effect)
            elif name in self.candidates:
                reason = "the same check was read under more load"
                self._silence(mean.readings, "less-load", reason, name)
            else:
                self.candidates[name] = _value(name, trusted[-1])
        return tuple(trusted)

    def _take_derived(self, name: str, value: Measured) -> None:
        """Let a derived value stand, unless a gate silences it; its readings stay as they are."""
        effect = self.gates.effect(self.checklist.checks[name], value.setup)
        if effect.silenced_by:
            self._gate(name, (), effect)
        else:
            widened_by = tuple(dict.fromkeys((*value.widened_by, *effect.widened_by)))
            trusted = replace(value, u=hypot(value.u, effect.u), widened_by=widened_by)
            self.candidates[name] = _value(name, trusted)

    def _families(self) -> None:
        """Rule 4."""
        losers: dict[str, str] = {}
        for family in self.checklist.families.values():
            best, *others = [name for name in family.checks if name in self.candidates] or [""]
            losers |= dict.fromkeys(others, best)
        for name, best in losers.items():
            reason = f"{self.checklist.checks[best].title!r} answers the same question better"
            self._silence(self.candidates.pop(name).readings, "family", reason, best)

    def _inputs(self) -> None:
        """Rule 5, the derived checks that rest on others first."""
        made = [name for name in self.candidates if self.checklist.checks[name].derived]
        for name in sorted(made, key=self._depth, reverse=True):
            if name not in self.candidates:
                continue
            behind = set(self.candidates[name].readings)
            for below in set(self._silenced_inputs(self.checklist.checks[name])):
                candidate = self.candidates.get(below)
                shared = self._targets(below) & self._targets(name)
                if candidate and shared and behind & set(candidate.readings):
                    del self.candidates[below]

    def _silenced_inputs(self, check: Check) -> Iterator[str]:
        """Yield the checks below a derived one that fall silent if it speaks."""
        for taken in check.from_.values():
            if taken.check and not taken.also_speaks:
                yield taken.check
                yield from self._silenced_inputs(self.checklist.checks[taken.check])

    def _depth(self, name: str) -> int:
        """Return over how many derived checks a derived check rests on readings."""
        inputs = (taken.check for taken in self.checklist.checks[name].from_.values())
        return 1 + max((self._depth(below) for below in inputs if below), default=0)

    def _targets(self, name: str) -> set[str]:
        """Return the faults and symptoms that a check looks at on this instrument."""
        links = self.checklist.checks[name].shows
        return {link.target for link in links if link_share(link, self.traits, self.checklist) > 0}

    def _gate(self, name: str, readings: tuple[int, ...], effect: Effect) -> None:
        self.gated.add(name)
        self._silence(readings, "gate", effect.reason, effect.silenced_by, effect.why)

    def _silence(
        self, readings: tuple[int, ...], kind: Why, reason: str, by: str, note: str = ""
    ) -> None:
        for index in readings:
            self.silent.setdefault(index, Silent(index, kind, reason, by, note))


def _value(name: str, mean: Measured) -> Spoken:
    return Spoken(name, mean.readings, value=mean.value, u=mean.u, widened_by=mean.widened_by)
