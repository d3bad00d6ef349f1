"""What an apprentice would look at beside what the advice puts first.

In: an examined visit and a check. Out: `Compared`: what each would tell and cost, and of what the
apprentice's own could tell nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.candidates import candidates, findings_of
from tailblock.advice.gain import Gain, gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.held_back import open_danger
from tailblock.advice.ranking import weights
from tailblock.advice.situation import situation_of
from tailblock.inspection.answers import find_check

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tailblock.advice import Advised
    from tailblock.advice.candidates import Candidate
    from tailblock.knowledge.entries import Check
    from tailblock.pipeline import Examined

BLIND = 0.1  # who tells less than this share of what another check does, tells nothing of it


@dataclass(frozen=True, slots=True)
class Side:
    """A check that could be next: bits, its minutes and those to its setup.

    `setup_minutes` is None if only repair work leads there. `held`: a danger that is open holds it
    back. `read`: it has its answer, or none that would count.
    """

    check: str
    bits: float
    minutes: float
    setup_minutes: float | None
    held: bool = False
    read: bool = False


@dataclass(frozen=True, slots=True)
class Compared:
    """The apprentice's check and the advised one.

    `blind`: the faults of which the advised check tells something and the other nothing, what
    matters most first.
    """

    yours: Side
    advised: Side
    blind: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Return whether both are one check."""
        return self.yours.check == self.advised.check


def worth(check: Check, found: Iterable[Candidate], gained: Mapping[str, Gain]) -> Gain:
    """Return what a check is expected to tell.

    As the input of a derived check it has its share of the bits of that, by minutes.
    """
    best = Gain(check.id, 0.0, {})
    for candidate in found:
        if candidate.tells == check.id:
            share = 1.0
        elif any(need.check.id == check.id for need in candidate.needs):
            share = check.minutes / candidate.minutes if candidate.minutes else 1.0
        else:
            continue
        told = gained[candidate.tells]
        if share * told.bits > best.bits:
            best = Gain(check.id, share * told.bits, told.about)
    return best


def beside(examined: Examined, name: str, advised: Advised) -> Compared:
    """Compare a check with an advised one.

    Raises
    ------
    NoSuchCheck, DerivedCheck, CheckDoesNotApply
    """
    checklist, instrument = examined.checklist, examined.inspection.instrument
    check = find_check(name, checklist, instrument.traits)
    first = checklist.checks[advised.check]
    visit = examined.inspection.visits[-1]
    situation = situation_of(checklist, instrument, visit, examined.heard[-1])
    wanted = {check.id, first.id}
    found = [
        one
        for one in candidates(situation)
        if one.tells in wanted or any(need.check.id in wanted for need in one.needs)
    ]
    predictions = examined.reasoner.predict(findings_of(examined.compiled, found))
    through_gauge = reported_by_check(checklist, instrument.traits, [one.tells for one in found])
    gained = gains(checklist, examined.compiled, predictions, through_gauge)
    ours, theirs = worth(check, found, gained), worth(first, found, gained)
    matters = weights(checklist)
    blind = [
        fault
        for fault, bits in theirs.about.items()
        if matters[fault] > 0.0 and ours.about.get(fault, 0.0) < BLIND * bits
    ]
    way = situation.map.route(situation.present, check.setup)
    calm = situation.map.route(
        situation.present, check.setup, situation.map.tension(situation.present)
    )
    loads = check.loads or check.risk == "load"
    danger = open_danger(checklist, {cause.id: cause.probability for cause in examined.causes})
    yours = Side(
        check.id,
        ours.bits,
        check.minutes,
        way.minutes if way else None,
        held=bool(danger) and way is not None and (calm is None or loads),
        read=all(check.id != need.check.id for one in found for need in one.needs),
    )
    best = Side(first.id, theirs.bits, first.minutes, advised.setup_minutes)
    return Compared(
        yours,
        best,
        tuple(sorted(blind, key=lambda fault: -matters[fault] * theirs.about[fault])),
    )
