"""The plan in words: doing nothing, the options, what is watched; for the report and for `plan`.

In: `Examined` with its plan. Out: `Plan`, with the numbers of the safety notes beside each piece of
work. What is offered was decided before; nothing here decides for the player.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import SURE, found
from tailblock.advice.sentences import inline
from tailblock.advice.waiting import FIRM, IF_FOUND
from tailblock.knowledge.words import word_for
from tailblock.messages import _
from tailblock.report.arithmetic import Arithmetic
from tailblock.report.conventions import day, number
from tailblock.report.model import Hours, Offer, Plan, Work
from tailblock.report.options import offer_words
from tailblock.report.returns import Returning
from tailblock.report.sentences import (
    ASKED_AGAIN,
    BESIDES_WAITING,
    FOLLOWS,
    HOURS_BESIDE,
    HOW_OFTEN,
    LEAVE_CALM,
    LEAVE_DANGER,
    LEAVE_SOUND,
    NO_RETURN_TERM,
    OFFERED_FROM,
    ONLY_IF_FOUND,
    RETURN_TERM,
    SUFFICES,
    SUFFICES_UNKNOWN,
    TERMS,
)
from tailblock.report.wording import (
    capital,
    clause,
    first_sentence,
    listed,
    minutes,
    percent,
    setup_words,
    sure,
    together,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.advice import CauseBelief
    from tailblock.advice.choose_work import PlannedWork
    from tailblock.advice.plan import Option
    from tailblock.knowledge.entries import Remedy
    from tailblock.report.examined import Examined

NAMED = 6  # faults that an option leaves, by name


def plan(examined: Examined, numbers: Mapping[str, int]) -> Plan:
    """Return the plan in words.

    Parameters
    ----------
    numbers
        The number of each caution's safety note.
    """
    decided = examined.plan
    firm = [work for work in decided.chosen.works if not work.if_found]
    returning = Returning(examined, [work.remedy for work in firm])
    writer = _Writer(examined, numbers, returning)
    offers = tuple(writer.offer(option) for option in decided.options)
    return Plan(
        leave=leave(examined)[1],
        follows=tuple(_follows(examined)),
        offers=offers,
        watch=tuple(_watch(examined)),
        threshold=_threshold(offers),
        without_work=tuple(_without_work(examined)),
        look_first=_look_first(examined),
        terms=_terms(offers, returning),
    )


def remedies(examined: Examined) -> tuple[Remedy, ...]:
    """Return the remedies of the plan in working order."""
    return tuple(examined.checklist.remedies[id_] for id_ in examined.plan.remedies)


def largest(examined: Examined) -> tuple[Remedy, tuple[str, ...]] | None:
    """Return the work that takes the most hours, with its faults, of what waits for no finding."""
    catalogue = examined.checklist.remedies
    firm = [work for work in examined.plan.chosen.works if work.faults and not work.if_found]
    most = max(firm, key=lambda work: catalogue[work.remedy].hours.likely, default=None)
    return (catalogue[most.remedy], most.faults) if most else None


def first_work(plan_: Plan) -> Work | None:
    """Return the work that comes first and does not wait for a finding."""
    works = (work for offer in plan_.offers for work in offer.works)
    return next((work for work in works if not work.if_found), None)


class _Writer:
    """Writes options and their work."""

    def __init__(
        self, examined: Examined, numbers: Mapping[str, int], returning: Returning
    ) -> None:
        self._examined = examined
        self._checklist = examined.checklist
        self._numbers = numbers
        self._returning = returning
        self._beside = Arithmetic(examined).beside
        self._causes = {cause.id: cause for cause in examined.causes}

    def offer(self, option: Option) -> Offer:
        title, promise = offer_words(
            option.kind, at_pitch=self._examined.may_string.answer == "yes"
        )
        names = self._checklist.faults
        said = _(SUFFICES_UNKNOWN)
        if option.insufficient is not None:
            said = capital(_(SUFFICES).format(chance=percent(option.insufficient)))
        hours = [
            self._checklist.remedies[work.remedy].hours
            for work in option.works
            if not work.if_found
        ]
        waits = len(hours) < len(option.works)
        total = Hours(
            sum(one.low for one in hours),
            sum(one.likely for one in hours),
            sum(one.high for one in hours),
        )
        return Offer(
            kind=option.kind,
            title=title,
            promise=promise,
            works=tuple(self._work(work, option) for work in option.works),
            hours=total,
            takes=_takes(total, waits=waits) if hours else _(ONLY_IF_FOUND),
            insufficient=option.insufficient,
            says=said,
            leaves=tuple(
                f"{names[fault].name} ({percent(chance)})"
                for fault, chance in (option.leaves or ())[:NAMED]
            ),
            returns=tuple(
                f"{names[risk.fault].name} ({percent(risk.chance)})"
                for risk in option.returns or ()
            ),
        )

    def _work(self, work: PlannedWork, option: Option) -> Work:
        checklist, remedy = self._checklist, self._checklist.remedies[work.remedy]
        figures, figures_from = self._beside(remedy.id)
        called = [self._causes[fault] for fault in work.faults]
        return Work(
            id=remedy.id,
            name=remedy.name,
            plain=remedy.plain,
            part=checklist.parts[remedy.part].name,
            if_found=work.if_found,
            reason=self._reason(work),
            deals_with=tuple(_deals_with(remedy, cause) for cause in called),
            figures=figures,
            figures_from=figures_from,
            hours=Hours(remedy.hours.low, remedy.hours.likely, remedy.hours.high),
            wait=remedy.wait or "",
            needs_first=self._needs_first(remedy),
            may_reveal=tuple(
                clause(reveal.text or self._how_often(reveal.chance, reveal.fault))
                for reveal in remedy.may_reveal
            ),
            may_leave=tuple(self._how_often(left.chance, left.fault) for left in remedy.may_leave),
            returns=self._returning.after(remedy.id, set(work.faults)),
            instead=tuple(checklist.remedies[id_].name for id_ in work.instead),
            reversible=remedy.reversible,
            stop_point=remedy.stop_point,
            access=tuple(self._access(work)),
            asked_again=self._asked_again(work, option),
            watch=tuple(
                _("{title}, after {after}").format(
                    title=checklist.checks[watch.check].title, after=watch.after
                )
                for watch in remedy.watch
            ),
            materials=remedy.materials,
            cautions=tuple(
                sorted(self._numbers[one] for one in remedy.cautions if one in self._numbers)
            ),
        )

    def _how_often(self, chance: float, fault: str) -> str:
        word = capital(_(HOW_OFTEN[word_for(chance)]))
        return f"{word}: {clause(self._checklist.faults[fault].plain)}"

    def _reason(self, work: PlannedWork) -> str:
        names = self._checklist.remedies
        if work.needed_by is not None:
            return _("Needed before: {name}").format(name=names[work.needed_by].name)
        if work.waits_for:
            return _("Decided when this is mended and all looked at again: {first}").format(
                first=self._named(work.waits_for)
            )
        if work.look_for:
            return _("Decided when this has been looked for: {first}").format(
                first=self._named(work.look_for)
            )
        if work.ahead_of:
            later = listed([inline(names[id_].name) for id_ in work.ahead_of])
            return _("If it is done, it comes before: {later}").format(later=later)
        return ""

    def _named(self, faults: Sequence[str]) -> str:
        return listed([inline(self._checklist.faults[fault].name) for fault in faults])

    def _needs_first(self, remedy: Remedy) -> tuple[str, ...]:
        work = tuple(self._checklist.remedies[id_].name for id_ in remedy.needs.remedies)
        states = {name: _(" or ").join(values) for name, values in remedy.needs.setup.items()}
        return (*work, capital(setup_words(states))) if states else work

    def _access(self, work: PlannedWork) -> Iterator[str]:
        for (dimension, state), cost in work.access.items():
            yield _("{setup_words}: {cost} besides").format(
                setup_words=capital(setup_words({dimension: state})), cost=minutes(cost)
            )
        for dimension, state in work.shared:
            yield _("{setup_words} already, counted once").format(
                setup_words=capital(setup_words({dimension: state}))
            )

    def _asked_again(self, work: PlannedWork, option: Option) -> str:
        if work.remedy not in option.stops:
            return ""
        told = [
            f"{inline(self._checklist.faults[fault].name)} ({percent(chance)})"
            for fault, chance in option.stops[work.remedy]
        ]
        return (
            _("{asked_again}: it may bring to light {told}").format(
                asked_again=_(ASKED_AGAIN), told=listed(told)
            )
            if told
            else _(ASKED_AGAIN)
        )


def _threshold(offers: Sequence[Offer]) -> str:
    """Say from what chance on work is offered, and what the hours beside an offer leave out."""
    told = _(OFFERED_FROM).format(
        firm=percent(FIRM), sure=percent(SURE), if_found=percent(IF_FOUND)
    )
    waits = any(work.if_found for offer in offers for work in offer.works)
    return f"{told} {_(HOURS_BESIDE)}" if waits else told


def _takes(total: Hours, *, waits: bool) -> str:
    """Say the hours of what is sure, and that some work of the offer is not among it."""
    hours = number(together(f"{total.low:g} / {total.likely:g} / {total.high:g} h"))
    return _(BESIDES_WAITING).format(hours=hours) if waits else hours


def _deals_with(remedy: Remedy, cause: CauseBelief) -> str:
    how_well = next(fix.how_well for fix in remedy.fixes if fix.fault == cause.id)
    word = _(HOW_OFTEN[word_for(how_well)])
    return _(
        "{name} ({probability}, {probability_2}); if it is there, this {word} cures it"
    ).format(
        name=cause.name,
        probability=sure(cause.probability),
        probability_2=percent(cause.probability),
        word=word,
    )


def leave(examined: Examined) -> tuple[str, tuple[str, ...]]:
    """Return what doing nothing means: in a clause, and in sentences."""
    found: tuple[str, ...]
    if examined.may_string.answer != "yes":
        found = LEAVE_DANGER
    else:
        found = LEAVE_CALM if examined.plan.remedies else LEAVE_SOUND
    briefly, *sentences = map(_, found)
    return briefly, tuple(sentences)


def _follows(examined: Examined) -> Iterator[str]:
    """Yield what comes of each likely fault that is left alone."""
    for cause in examined.plan.follows:
        fault = examined.checklist.faults[cause.id]
        then = (
            clause(first_sentence(fault.left_alone)) if fault.left_alone else _(FOLLOWS[fault.pace])
        )
        yield f"{cause.name} ({percent(cause.probability)}): {then}"


def _watch(examined: Examined) -> Iterator[str]:
    checklist = examined.checklist
    chance = {cause.id: cause.probability for cause in examined.causes}
    for one in examined.plan.watch:
        name = checklist.faults[one.fault or ""].name
        by = (
            _(" by: {title}").format(title=inline(checklist.checks[one.check].title))
            if one.check
            else ""
        )
        yield _("{name} ({chance}): look again on {due}{by}").format(
            name=name, chance=percent(chance[one.fault or ""]), due=day(one.due), by=by
        )


def _without_work(examined: Examined) -> Iterator[str]:
    """Yield the likely faults for which no work is offered, and why."""
    chosen, faults = examined.plan.chosen, examined.checklist.faults
    for id_ in chosen.uncured:
        cause = chosen.calling[id_]
        if cause.probability >= FIRM and cause.kind == "condition":
            yield f"{cause.name}: {faults[id_].no_remedy or _('no work is listed for it here')}"


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


def _terms(offers: Sequence[Offer], returning: Returning) -> tuple[str, ...]:
    if not offers:
        return ()
    if not returning.in_reach:
        return tuple(map(_, (*TERMS, NO_RETURN_TERM)))
    returns = any(work.returns for offer in offers for work in offer.works)
    return tuple(map(_, (*TERMS, RETURN_TERM) if returns else TERMS))
