"""Recommended work: which remedies are offered, in which stage, and what each may bring to light.

In: `Examined`. Out: `Plan`, and the ids of the remedies in it. A remedy is offered for a fault from
a stated probability on; nothing here decides for the player.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import found
from tailblock.advice.returning import meant_for
from tailblock.knowledge.traits import applies
from tailblock.knowledge.words import word_for
from tailblock.report.arithmetic import Arithmetic
from tailblock.report.model import Hours, Offer, OfferKind, Plan, Work
from tailblock.report.returns import Returning
from tailblock.report.sentences import (
    LEAVE_CALM,
    LEAVE_DANGER,
    LEAVE_SOUND,
    NO_RETURN_TERM,
    OFFERS,
    RETURN_TERM,
    TERMS,
)
from tailblock.report.wording import capital, clause, percent, setup_words, sure

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from tailblock.advice import CauseBelief
    from tailblock.knowledge.entries import Remedy
    from tailblock.report.examined import Examined
    from tailblock.report.model import BenchFigure

FIRM = 0.50  # from here on work is offered
SURE = 0.80  # hot work and solvents: they cannot be taken back, and a look costs minutes
HOT = frozenset({"heat", "steam", "solvent"})
IF_FOUND = 0.20  # from here on work is offered for the case that the fault is found
RAISED = 2.0  # decibans: a starting chance that no reading has raised calls for a look, not work
FIRST: tuple[OfferKind, ...] = ("safe", "lasting", "playable")  # set-up work is not thrown away
KINDS: tuple[OfferKind, ...] = ("safe", "playable", "lasting", "improve")


class Chosen:
    """The remedies that are offered, in working order, and the faults that call for them."""

    def __init__(self, examined: Examined) -> None:
        """Choose what is offered, and what other work needs before it."""
        self.examined = examined
        self.calling = {c.id: c for c in examined.causes if _calls(c, examined.looked_at)}
        self._conditioning = {remedy.id: remedy for remedy in self._conditions()}
        self.remedies: dict[str, Remedy] = {}
        self.needed_by: dict[str, str] = {}
        by_weight = sorted(self._direct(), key=self._urge, reverse=True)
        for remedy in by_weight:
            self._take(remedy)

    def _direct(self) -> list[Remedy]:
        checklist = self.examined.checklist
        traits = self.examined.inspection.instrument.traits
        return [
            remedy
            for remedy in checklist.remedies.values()
            if self.called_by(remedy) and applies(remedy, traits, checklist)
        ]

    def called_by(self, remedy: Remedy) -> tuple[CauseBelief, ...]:
        """Return the faults that call for a remedy, the most probable first.

        A fault calls for what is meant for it: not for work on something else that may ease it
        besides.
        """
        fixed = meant_for(remedy)
        return tuple(cause for id_, cause in self.calling.items() if id_ in fixed)

    def _urge(self, remedy: Remedy) -> tuple[bool, float]:
        called = self.called_by(remedy)
        return (not self.if_found(remedy), max(cause.lead for cause in called))

    def if_found(self, remedy: Remedy) -> bool:
        """Return whether work waits for a finding: no fault that calls for it is sure enough yet.

        What only the player has told, or what is likely because something else is, was not found.
        What comes with the climate is looked at again when the wood is back in its range.
        """
        called = self.called_by(remedy)
        return bool(called) and not any(self._firm(remedy, cause) for cause in called)

    def _firm(self, remedy: Remedy, cause: CauseBelief) -> bool:
        least = SURE if HOT.intersection(remedy.hazards) else FIRM
        found_at_bench = cause.probability >= least and cause.id in self.examined.seen_at_bench
        return found_at_bench and (
            remedy.id in self._conditioning or cause.id not in self._conditioned()
        )

    def _conditions(self) -> list[Remedy]:
        """Return the work that puts right a climate which was found at the bench."""
        climates = {
            cause.id
            for cause in self.calling.values()
            if cause.kind == "climate"
            and cause.probability >= FIRM
            and cause.id in self.examined.seen_at_bench
        }
        return [r for r in self._direct() if climates.intersection(c.id for c in self.called_by(r))]

    def _conditioned(self) -> set[str]:
        """Return the faults that may be gone when the climate is put right."""
        return {fix.fault for remedy in self._conditioning.values() for fix in remedy.fixes}

    def _take(self, remedy: Remedy) -> None:
        """Add a remedy after everything that it needs."""
        if remedy.id in self.remedies:
            return
        self.remedies[remedy.id] = remedy
        for id_ in remedy.needs.remedies:
            needed = self.examined.checklist.remedies[id_]
            if not self.called_by(needed):
                self.needed_by.setdefault(id_, remedy.id)
            self._take(needed)
        self.remedies[remedy.id] = self.remedies.pop(remedy.id)


def _calls(cause: CauseBelief, looked_at: Collection[str]) -> bool:
    if cause.harm == "none" or not found(cause, looked_at):
        return False
    raised = cause.decibans >= RAISED and cause.harm != "cosmetic"
    return cause.probability >= FIRM or (cause.probability >= IF_FOUND and raised)


def plan(chosen: Chosen, numbers: Mapping[str, int]) -> Plan:
    """Return the work in stages.

    Parameters
    ----------
    chosen
        What is offered.
    numbers
        The number of each caution's safety note.
    """
    beside = Arithmetic(chosen.examined).beside
    returning = Returning(chosen.examined, _firm(chosen))
    works = {
        id_: _work(chosen, remedy, numbers, returning, beside(id_))
        for id_, remedy in chosen.remedies.items()
    }
    offers = []
    for kind in KINDS:
        within = tuple(works[id_] for id_, r in chosen.remedies.items() if r.stage == kind)
        if within:
            title, promise = OFFERS[kind]
            offers.append(Offer(kind, title, promise, within))
    return Plan(
        leave=_leave(chosen),
        offers=tuple(offers),
        threshold=(
            f"Work is offered for every fault at {percent(FIRM)} or more that was looked at at "
            f"the bench, work with heat or solvents from {percent(SURE)}. What is less sure than "
            f"that, from {percent(IF_FOUND)} on, is listed for the case that the fault is found; "
            "what comes with dry or wet air, for the case that it stays when the air is put right."
        ),
        without_work=_without_work(chosen),
        look_first=_look_first(chosen.examined),
        terms=_terms(works.values(), returning) if offers else (),
    )


def _firm(chosen: Chosen) -> tuple[str, ...]:
    """Return the work that does not wait for a finding."""
    return tuple(id_ for id_, remedy in chosen.remedies.items() if not chosen.if_found(remedy))


def _terms(works: Collection[Work], returning: Returning) -> tuple[str, ...]:
    if not returning.in_reach:
        return (*TERMS, NO_RETURN_TERM)
    return (*TERMS, RETURN_TERM) if any(work.returns for work in works) else TERMS


def _leave(chosen: Chosen) -> tuple[str, ...]:
    if chosen.examined.may_string.answer != "yes":
        return LEAVE_DANGER
    return LEAVE_CALM if chosen.remedies else LEAVE_SOUND


def _work(
    chosen: Chosen,
    remedy: Remedy,
    numbers: Mapping[str, int],
    returning: Returning,
    beside: tuple[tuple[BenchFigure, ...], str],
) -> Work:
    checklist = chosen.examined.checklist
    called = chosen.called_by(remedy)
    part = checklist.parts[remedy.part].name
    figures, figures_from = beside
    return Work(
        name=remedy.name,
        plain=remedy.plain,
        part=part,
        if_found=chosen.if_found(remedy),
        reason=_reason(chosen, remedy),
        deals_with=tuple(_deals_with(remedy, cause) for cause in called),
        figures=figures,
        figures_from=figures_from,
        hours=Hours(remedy.hours.low, remedy.hours.likely, remedy.hours.high),
        wait=remedy.wait or "",
        needs_first=_needs_first(chosen, remedy),
        may_reveal=tuple(
            reveal.text
            or f"{capital(word_for(reveal.chance).replace('-', ' '))}: "
            f"{clause(checklist.faults[reveal.fault].plain)}"
            for reveal in remedy.may_reveal
        ),
        may_leave=tuple(
            f"{capital(word_for(leave.chance).replace('-', ' '))}: "
            f"{clause(checklist.faults[leave.fault].plain)}"
            for leave in remedy.may_leave
        ),
        returns=returning.after(remedy.id, {cause.id for cause in called}),
        instead=_instead(chosen, remedy),
        reversible=remedy.reversible,
        stop_point=remedy.stop_point,
        watch=tuple(
            f"{checklist.checks[watch.check].title}, after {watch.after}" for watch in remedy.watch
        ),
        materials=remedy.materials,
        cautions=tuple(
            sorted(numbers[caution] for caution in remedy.cautions if caution in numbers)
        ),
    )


def _reason(chosen: Chosen, remedy: Remedy) -> str:
    user = chosen.needed_by.get(remedy.id)
    return f"Needed before: {chosen.remedies[user].name}" if user else ""


def _deals_with(remedy: Remedy, cause: CauseBelief) -> str:
    how_well = next(fix.how_well for fix in remedy.fixes if fix.fault == cause.id)
    word = word_for(how_well).replace("-", " ")
    return (
        f"{cause.name} ({sure(cause.probability)}, {percent(cause.probability)}); "
        f"if it is there, this {word} cures it"
    )


def _needs_first(chosen: Chosen, remedy: Remedy) -> tuple[str, ...]:
    checklist = chosen.examined.checklist
    work = tuple(checklist.remedies[id_].name for id_ in remedy.needs.remedies)
    states = {name: " or ".join(values) for name, values in remedy.needs.setup.items()}
    return (*work, capital(setup_words(states))) if states else work


def _instead(chosen: Chosen, remedy: Remedy) -> tuple[str, ...]:
    """Return other offered work that cures one of the same faults and does not build on this."""
    fixed = {cause.id for cause in chosen.called_by(remedy)}
    return tuple(
        other.name
        for other in chosen.remedies.values()
        if other.id != remedy.id
        and remedy.id not in other.needs.remedies
        and other.id not in remedy.needs.remedies
        and fixed & {fix.fault for fix in other.fixes}
    )


def _without_work(chosen: Chosen) -> tuple[str, ...]:
    """Return the likely faults for which no work is offered, and why."""
    faults = chosen.examined.checklist.faults
    fixed = {c.id for remedy in chosen.remedies.values() for c in chosen.called_by(remedy)}
    return tuple(
        f"{cause.name}: {faults[cause.id].no_remedy or 'no work is listed for it here'}"
        for cause in chosen.calling.values()
        if cause.id not in fixed and cause.probability >= FIRM and cause.kind == "condition"
    )


def _look_first(examined: Examined) -> tuple[str, ...]:
    """Return what is likely by its starting chance alone: work is planned once it was looked at."""
    return tuple(
        f"{cause.name} ({percent(cause.probability)})"
        for cause in examined.causes
        if cause.harm != "none"
        and cause.kind == "condition"
        and cause.probability >= FIRM
        and not found(cause, examined.looked_at)
    )


def largest(chosen: Chosen) -> Remedy | None:
    """Return the offered work that takes the most hours, of what does not wait for a finding."""
    firm = [
        remedy
        for remedy in chosen.remedies.values()
        if chosen.called_by(remedy) and not chosen.if_found(remedy)
    ]
    return max(firm, key=lambda remedy: remedy.hours.likely, default=None)


def first_work(plan_: Plan) -> Work | None:
    """Return the work that comes first and does not wait for a finding.

    What stops harm, then what puts a cause right: set-up work comes after the cause, which would
    throw it away.
    """
    works = [
        work
        for kind in FIRST
        for offer in plan_.offers
        if offer.kind == kind
        for work in offer.works
    ]
    return next((work for work in works if not work.if_found), None)
