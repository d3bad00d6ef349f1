"""What was read, part by part: the written answer, what it means, its limits, and why it is silent.

In: `Examined`. Out: `PartFindings`, and the reading of a check in a few words. Levels are named by
the limits that hold for this instrument; what counts for what has been decided before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from tailblock.knowledge.levels import levels_of
from tailblock.messages import _, ngettext
from tailblock.report.measured import Ruler, ruler
from tailblock.report.model import Finding, PartFindings
from tailblock.report.photos import numbers
from tailblock.report.sentences import NO_ANSWER
from tailblock.report.wording import (
    capital,
    counted,
    listed,
    setup_words,
    shown,
    spread,
    words_of_level,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.inspection.record import Reading, Setup
    from tailblock.inspection.speaks import Heard, Silent, Spoken
    from tailblock.knowledge.entries import Check, Measure
    from tailblock.report.examined import Examined
    from tailblock.report.model import Gauge


def findings(examined: Examined) -> tuple[PartFindings, ...]:
    """Return the readings of all visits so far by part, and the values computed from them.

    Parts without a reading are left out; within a part the readings keep the order in which they
    were taken.
    """
    by_part: dict[str, list[Finding]] = {part: [] for part in examined.checklist.parts}
    for visit in range(examined.visit + 1):
        for check, finding in _Visit(examined, visit).findings():
            by_part[check.part].append(finding)
    return tuple(
        PartFindings(examined.checklist.parts[part].name, tuple(found))
        for part, found in by_part.items()
        if found
    )


def said(examined: Examined, check: str, visit: int) -> str:
    """Return what a check that counts said on a visit, in a few words."""
    spoken = next(one for one in examined.heard[visit].spoken if one.check == check)
    return _Visit(examined, visit).in_short(spoken)


def gauge_of(examined: Examined, check: str, visit: int) -> Gauge | None:
    """Return a check that counts on a visit against its limits, None if it is not measured."""
    spoken = next(one for one in examined.heard[visit].spoken if one.check == check)
    return _Visit(examined, visit).gauge(spoken)


class _Visit:
    """The readings of one visit with what became of each."""

    def __init__(self, examined: Examined, visit: int) -> None:
        self.examined = examined
        self.checks = examined.checklist.checks
        self.number = visit
        self.photographs = numbers(examined)
        self.readings = examined.inspection.visits[visit].readings
        self.came_in_with = examined.inspection.visits[visit].setup
        heard: Heard = examined.heard[visit]
        self.silent = {silent.reading: _why(silent) for silent in heard.silent}
        self.spoken = heard.spoken
        self.levels = heard.levels
        self.own = {
            index: one for one in heard.spoken for index in one.readings if self._is_own(one)
        }

    def _is_own(self, spoken: Spoken) -> bool:
        return self.checks[spoken.check].derived is None

    def findings(self) -> Iterator[tuple[Check, Finding]]:
        """Yield the findings of the visit, those that were computed last."""
        for index, reading in enumerate(self.readings):
            yield self.checks[reading.check], self._finding(index, reading)
        for spoken in self.spoken:
            if not self._is_own(spoken):
                yield self.checks[spoken.check], self._computed(spoken)

    def in_short(self, spoken: Spoken) -> str:
        """Return a finding in a few words: the value, ± and its level, or what was answered."""
        check = self.checks[spoken.check]
        if check.measure is None or spoken.value is None:
            return words_of_level(check, spoken.level or "")
        quantity = check.measure.quantity
        value = f"{shown(spoken.value, quantity)} ± {spread(spoken.u or 0.0, quantity)}"
        return f"{value}: {words_of_level(check, self.levels[spoken.check])}"

    def gauge(self, spoken: Spoken) -> Gauge | None:
        """Return a finding against its limits, None if it is not measured."""
        check = self.checks[spoken.check]
        if check.measure is None or spoken.value is None:
            return None
        return self._ruler(check, check.measure).gauge(spoken.value, spoken.u or 0.0)

    def _finding(self, index: int, reading: Reading) -> Finding:
        check = self.checks[reading.check]
        answer = reading.answer
        if answer.value is not None and check.measure is not None:
            return self._measured(index, reading, check, check.measure, answer.value)
        level = answer.level or ""
        silent = "" if answer.unknown and not reading.retracted else self.silent.get(index, "")
        return Finding(
            check=check.title,
            written=reading.written,
            value="",
            uncertainty="",
            normal=words_of_level(check, levels_of(check).ids[0]) if check.choices else "",
            level=_(NO_ANSWER) if answer.unknown else words_of_level(check, level),
            abnormal=bool(level) and level != levels_of(check).ids[0],
            silent=silent,
            visit=self._label(),
            setup=self._setup(reading.setup),
            remarks=tuple(self._remarks(index, reading)),
            note=reading.note,
            gauge=None,
        )

    def _measured(
        self, index: int, reading: Reading, check: Check, measure: Measure, value: float
    ) -> Finding:
        ruled = self._ruler(check, measure)
        spoken = self.own.get(index)
        alone = spoken is not None and len(spoken.readings) == 1
        u = (spoken.u or 0.0) if spoken is not None and alone else ruled.gauge_u
        level = ruled.level(value)
        silent = self.silent.get(index, "")
        return Finding(
            check=check.title,
            written=reading.written,
            value=shown(value, measure.quantity),
            uncertainty=spread(u, measure.quantity),
            normal=ruled.normal_words,
            level=words_of_level(check, level),
            abnormal=level != ruled.normal_level,
            silent=silent,
            visit=self._label(),
            setup=self._setup(reading.setup),
            remarks=(*self._remarks(index, reading), *ruled.remarks),
            note=reading.note,
            gauge=None if silent else ruled.gauge(value, u),
        )

    def _computed(self, spoken: Spoken) -> Finding:
        check = self.checks[spoken.check]
        measure = cast("Measure", check.measure)  # a derived check is measured: its entry says so
        value, u = cast("float", spoken.value), cast("float", spoken.u)
        ruled = self._ruler(check, measure)
        level = self.levels[spoken.check]
        return Finding(
            check=check.title,
            written="",
            value=shown(value, measure.quantity),
            uncertainty=spread(u, measure.quantity),
            normal=ruled.normal_words,
            level=words_of_level(check, level),
            abnormal=level != ruled.normal_level,
            silent="",
            visit=self._label(),
            setup="",
            remarks=(self._made_of(spoken), *self._widened(spoken), *ruled.remarks),
            note="",
            gauge=ruled.gauge(value, u),
        )

    def _ruler(self, check: Check, measure: Measure) -> Ruler:
        traits = self.examined.inspection.instrument.traits
        return ruler(check, measure, traits, self.examined.checklist)

    def _remarks(self, index: int, reading: Reading) -> Iterator[str]:
        if reading.answer.assumed_unit:
            yield _("no unit was written; taken as {assumed_unit}").format(
                assumed_unit=reading.answer.assumed_unit
            )
        spoken = self.own.get(index)
        if spoken is not None and len(spoken.readings) > 1:
            number = counted(len(spoken.readings), "{number} reading", "{number} readings")
            mean = _("the mean of {number} counts: {spoken}").format(
                number=number, spoken=self.in_short(spoken)
            )
            yield (
                mean
                if index == spoken.readings[-1]
                else _("one of {number} that are averaged").format(number=number)
            )
        if spoken is not None:
            yield from self._widened(spoken)
        else:
            through = [one for one in self.spoken if index in one.readings]
            yield from (
                _("counts through: {title}").format(title=self.checks[one.check].title)
                for one in through
            )
        seen_on = self.photographs.get((self.number, index))
        if seen_on:
            yield ngettext("photograph {numbers}", "photographs {numbers}", len(seen_on)).format(
                numbers=listed([str(number) for number in seen_on])
            )

    def _widened(self, spoken: Spoken) -> Iterator[str]:
        yield from (
            _("trusted less: {title}").format(title=self.checks[gate].title)
            for gate in spoken.widened_by
        )

    def _made_of(self, spoken: Spoken) -> str:
        behind = dict.fromkeys(self.readings[index].check for index in spoken.readings)
        return _("computed from: {join}").format(
            join="; ".join(self.checks[check].title for check in behind)
        )

    def _label(self) -> str:
        return _("visit {number}").format(number=self.number + 1) if self.examined.visit else ""

    def _setup(self, setup: Setup) -> str:
        """Say the state of the strings and of what is not as it usually is, if it was changed.

        What was read as the instrument came in says nothing: the heading tells that state once.
        """
        if setup == self.came_in_with:
            return ""
        setups = self.examined.checklist.setups
        told = {
            name: state
            for name, state in setup.items()
            if name == setups.tension or state != setups.states[name][0]
        }
        return capital(setup_words(told))


def _why(silent: Silent) -> str:
    return f"{silent.reason} ({silent.note})" if silent.note else silent.reason
