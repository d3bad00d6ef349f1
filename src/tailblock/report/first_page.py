"""The player's page: what is wrong, how sure, may it be strung, what first, what is not known yet.

In: `Examined`, the plan, what not to do at home. Out: `PlayersPage`, in short plain sentences for a
reader who knows nothing of the trade.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, pairwise
from typing import TYPE_CHECKING

from tailblock.advice.rules import GRAVE
from tailblock.knowledge.entries import UNKNOWN
from tailblock.messages import _
from tailblock.report.model import Matter, PlayersPage
from tailblock.report.plan import first_work, largest
from tailblock.report.sentences import (
    BECAUSE,
    CHOICES_NOTE,
    LOOKS_NAMED,
    NEAR_CERTAIN_TOO,
    NO_LOOK_LEFT,
    NOT_SETTLED,
    NOTHING_FIRST,
    NOTHING_OPEN,
    REACH,
    SLACK_HOLDS,
    SPARES_WORK,
)
from tailblock.report.stringing import SETTLED, at_pitch, looks_that_clear, stringing
from tailblock.report.verdict import PLANNED, condition, urgency, verdict
from tailblock.report.wording import (
    briefly,
    capital,
    clause,
    counted,
    exactness,
    first_sentence,
    hours,
    listed_some,
    minutes,
    percent,
    scale_of_chances,
    sure,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice import CauseBelief, Settling
    from tailblock.report.examined import Examined
    from tailblock.report.model import Choice, Plan

NEAR_CERTAIN = 0.90
BESIDES = 2  # near certain faults that are named besides
MATTERS = 3  # and one more where a danger is likely
LIKELY = 0.50
SLOW = frozenset({"stable", "years"})
STEPS = 3
UNKNOWNS = 4
AT_HOME = 8  # all of them stand with the safety notes
PARTS = 2  # parts without a grade that are named
TRAITS = 4  # unknown facts that are named
SUSPECT = 0.20


def players_page(
    examined: Examined,
    plan: Plan,
    not_at_home: tuple[str, ...],
    choices: tuple[Choice, ...],
) -> PlayersPage:
    """Return the first page.

    Parameters
    ----------
    plan
        The work that is offered, in words.
    choices
        What the player can choose among it.
    """
    grades = examined.grades
    matters = _matters(examined, plan)
    holds = _holds(examined, matters)
    return PlayersPage(
        verdict=verdict(examined, matters, holds=holds),
        condition=replace(
            condition(examined, grades.condition, grades.rule), plain=_(BECAUSE[grades.rule])
        ),
        urgency=replace(
            urgency(examined, grades.urgency, grades.urgency_rule),
            plain=_(BECAUSE[grades.urgency_rule]),
        ),
        undetermined=_("{undetermined} of {of} parts not judged yet").format(
            undetermined=len(grades.undetermined), of=grades.of
        )
        if grades.undetermined
        else "",
        stringing=stringing(examined),
        matters=tuple(_matter(examined, cause) for cause in matters),
        slack=_(SLACK_HOLDS)
        if holds and grades.urgency != PLANNED
        else "",  # else the verdict says so
        also=_also(examined, matters),
        first=tuple(islice(_first(examined, plan), STEPS)) or (_(NOTHING_FIRST),),
        unknown=tuple(islice(_unknown(examined), UNKNOWNS)) or (_(NOTHING_OPEN),),
        choices=choices,
        choices_note=_choices_note(choices),
        not_at_home=not_at_home[:AT_HOME],
        how_to_read=scale_of_chances(),
        approximate=examined.beliefs.approximate,
        error=examined.beliefs.error,
        exactness=exactness(examined.beliefs.error),
    )


def _undetermined(examined: Examined) -> str:
    grades = examined.grades
    parts = examined.checklist.parts
    visits = examined.inspection.visits[: examined.visit + 1]
    seen = {
        examined.checklist.checks[reading.check].part
        for visit in visits
        for reading in visit.readings
        if not reading.retracted and not reading.answer.unknown
    }
    unseen = [parts[part].name.lower() for part in grades.undetermined if part not in seen]
    short = [parts[part].name.lower() for part in grades.undetermined if part in seen]
    enough = _("{short} not enough to judge").format(short=len(short)) if short else ""
    if not unseen:
        return _("Of {of} parts {enough}: {short}.").format(
            of=grades.of, enough=enough, short=listed_some(short, PARTS)
        )
    told = _("Nobody has looked yet at {unseen} of {of} parts").format(
        unseen=len(unseen), of=grades.of
    )
    besides = _("; at {enough}").format(enough=enough) if short else ""
    return f"{told}: {listed_some(unseen, PARTS)}{besides}."


def _matters(examined: Examined, plan: Plan) -> list[CauseBelief]:
    """Return what matters most: likely dangers, what the first work is for, the rest by lead.

    What is near certain and the first work is for is among it however likely it was from the
    start; so is what explains the readings where nothing has to be mended.
    """
    called = _first_called(examined, plan)
    found = examined.verdict
    danger = found.danger_open
    explains = found.faults if found.kind == "nothing-wrong" else ()
    suspects = [
        cause
        for cause in examined.causes
        if cause.id in explains
        or (
            cause.harm != "none"
            and (cause.id in danger or cause.probability >= SUSPECT)
            and (cause.lead > 0 or cause.id in danger or cause.id in called)
        )
    ]
    grave = {cause.id for cause in suspects if cause.id in danger and cause.probability >= LIKELY}
    by_weight = sorted(
        suspects,
        key=lambda cause: (
            cause.id not in grave,
            cause.id not in called,
            cause.probability < LIKELY,
            -cause.lead,
        ),
    )
    return by_weight[: MATTERS + bool(grave or called)]


def _first_called(examined: Examined, plan: Plan) -> set[str]:
    """Return the near certain faults that the first work is for."""
    work = first_work(plan)
    called = {
        fault
        for planned in examined.plan.chosen.works
        if work and planned.remedy == work.id
        for fault in planned.faults
    }
    return {
        cause.id
        for cause in examined.causes
        if cause.id in called and cause.probability >= NEAR_CERTAIN and cause.kind == "condition"
    }


def _holds(examined: Examined, matters: Sequence[CauseBelief]) -> bool:
    """Return whether slack strings keep all that matters from getting worse while work is planned.

    True of what is slow by itself, and of what tension drives; never of what can give way at any
    moment. Nothing is said where stringing is free or nothing matters.
    """
    faults = [examined.checklist.faults[cause.id] for cause in matters]
    return (
        bool(faults)
        and examined.may_string.answer != "yes"
        and all(
            fault.pace in SLOW or (fault.pace != "any-moment" and fault.under_tension != "fine")
            for fault in faults
        )
    )


def _matter(examined: Examined, cause: CauseBelief) -> Matter:
    checklist = examined.checklist
    alone = checklist.faults[cause.id].left_alone or ""
    return Matter(
        id=cause.id,
        part=checklist.parts[cause.part].name,
        plain=f"{capital(briefly(cause.plain))}.",
        sure=sure(cause.probability)
        + (f", {_(NOT_SETTLED)}" if cause.probability < SETTLED else ""),
        probability=cause.probability,
        left_alone=alone if cause.harm == "none" else first_sentence(alone),
    )


_SAME = 0.25  # hours: less is no difference on the page


def _choices_note(choices: Sequence[Choice]) -> str:
    """Return what the hours mean, and why those of a wider offer may be fewer."""
    spans = [(one.low, one.high) for one in choices if one.low is not None and one.high is not None]
    if not spans:
        return ""
    fewer = any(
        earlier - later > _SAME
        for sooner, wider in pairwise(spans)
        for earlier, later in zip(sooner, wider, strict=True)
    )
    return f"{_(CHOICES_NOTE)} {_(SPARES_WORK)}" if fewer else _(CHOICES_NOTE)


def _also(examined: Examined, matters: Sequence[CauseBelief]) -> str:
    """Name in one line what is near certain, and grave or what the largest work is for.

    Lead measures what the readings added, so what was likely from the start can stay below the
    things that matter most, however sure it is now.
    """
    work, faults = largest(examined) or (None, ())
    costly = set(faults)
    besides = [
        cause
        for cause in examined.causes
        if cause.probability >= NEAR_CERTAIN
        and cause.kind == "condition"
        and (cause.harm in GRAVE or cause.id in costly)
        and cause not in matters
    ]
    told = [
        f"{briefly(cause.plain)} ({percent(cause.probability)}"
        + (
            _(", the largest work: {low} to {high})").format(
                low=hours(work.hours.low), high=hours(work.hours.high)
            )
            if work and cause.id in costly
            else ")"
        )
        for cause in besides
    ]
    return f"{_(NEAR_CERTAIN_TOO)}: {listed_some(told, BESIDES)}." if told else ""


def _first(examined: Examined, plan: Plan) -> Iterator[str]:
    """Yield what must be done first, in order."""
    checks = examined.checklist.checks
    advice = examined.advice
    may = examined.may_string
    if advice.slacken_now:
        yield _("Slacken the strings today. They can stay slack for as long as you like.")
    elif may.answer != "yes":
        yield _("Slacken the strings.") if at_pitch(examined) else _("Leave the strings slack.")
    looks = looks_that_clear(examined) or _looks_at_the_bench(examined)
    calm = examined.verdict.kind == "nothing-wrong"
    if calm and may.answer == "yes":
        yield _(NOTHING_FIRST)
    if looks and not advice.enough:
        look = checks[looks[0]]
        told = (
            _("To know more, the next look at the bench: {title} ({minutes})")
            if calm
            else _("At the bench, look first: {title} ({minutes})")
        ).format(title=clause(look.title), minutes=minutes(look.minutes))
        yield f"{told}{_tells(examined, look.id)}."
    work = first_work(plan)
    if work:
        yield _("Then the first work: {plain}.").format(plain=clause(work.plain))


def _looks_at_the_bench(examined: Examined) -> tuple[str, ...]:
    """Return the advised checks that look at the instrument, none that asks the player.

    What only decides whether other answers count comes last: it tells a player nothing.
    """
    checks = examined.checklist.checks
    looks = [one for one in examined.advice.advice if checks[one.check].asked == "bench"]
    in_turn = sorted(looks, key=lambda one: one.step == "gate")
    return tuple(dict.fromkeys(one.check for one in in_turn))


def _tells(examined: Examined, look: str) -> str:
    """Say what a look would tell: of what stops stringing, else of what it settles."""
    checklist = examined.checklist
    if look in looks_that_clear(examined):
        doubts = _clearable(examined)
    else:
        doubts = [
            entry.fault
            for entry in examined.advice.unsettled
            if entry.settled_by is not None and entry.settled_by.check == look
        ]
    if len(doubts) > 1:
        return _(", to tell whether it may be strung") if look in looks_that_clear(examined) else ""
    return (
        _(", to tell whether {plain}").format(plain=briefly(checklist.faults[doubts[0]].plain))
        if doubts
        else ""
    )


def _clearable(examined: Examined) -> list[str]:
    """Return the dangers that the looks named beside stringing can clear."""
    if not looks_that_clear(examined):
        return []
    found = examined.may_string
    return [fault for fault in found.because if fault not in found.no_look]


def _to_find_out(examined: Examined, settles: Settling | None) -> str:
    """Name the look that would settle something, and why it has to wait if it has."""
    if settles is None or settles.reach == "asked":
        return _(NO_LOOK_LEFT)
    check = examined.checklist.checks[settles.check]
    told = _("To find out: {title}").format(title=clause(check.title))
    if settles.reach == "now":
        return f"{told} ({minutes(check.minutes)})"
    return f"{told}; {_(REACH[settles.reach])}"


def _unknown(examined: Examined) -> Iterator[str]:
    """Yield what is not known yet, the weightiest first."""
    checklist = examined.checklist
    stops = examined.may_string.because  # what stops stringing comes first
    unsettled = sorted(examined.advice.unsettled, key=lambda entry: entry.fault not in stops)
    open_ = {entry.fault for entry in unsettled}
    doubts = [fault for fault in _clearable(examined) if fault not in open_]
    for fault in doubts[:MATTERS]:
        yield _("Whether {plain}. {looks_named}.").format(
            plain=clause(checklist.faults[fault].plain), looks_named=_(LOOKS_NAMED)
        )
    for entry in unsettled[: max(0, MATTERS - len(doubts))]:
        told = _("Whether {plain}").format(plain=clause(checklist.faults[entry.fault].plain))
        yield f"{told}. {_to_find_out(examined, entry.settled_by)}."
    unknown = [
        clause(trait.called)
        for trait in checklist.traits.values()
        if examined.inspection.instrument.traits.get(trait.id, UNKNOWN) == UNKNOWN
    ]
    if examined.grades.undetermined:
        yield _undetermined(examined)
    if unknown:
        yield _("About the instrument: {unknown}.").format(unknown=listed_some(unknown, TRAITS))
    beyond = len(examined.advice.beyond)
    if beyond:
        yield _("{beyond} did not fit into the time of this visit.").format(
            beyond=counted(beyond, "{number} useful look", "{number} useful looks")
        )
    if not examined.advice.enough and not beyond and examined.advice.advice:
        left = counted(len(examined.advice.advice), "{number} useful look", "{number} useful looks")
        yield _("{left} can still be taken; the list is on the bench pages.").format(left=left)
