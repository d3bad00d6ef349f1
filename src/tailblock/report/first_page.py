"""The player's page: what is wrong, how sure, may it be strung, what first, what is not known yet.

In: `Examined`, the plan, what not to do at home. Out: `PlayersPage`, in short plain sentences for a
reader who knows nothing of the trade.
"""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from tailblock.advice.rules import GRAVE
from tailblock.knowledge.entries import UNKNOWN
from tailblock.report.model import Matter, PlayersPage
from tailblock.report.plan import first_work, largest
from tailblock.report.sentences import (
    NEAR_CERTAIN_TOO,
    NO_LOOK_LEFT,
    NOTHING_FIRST,
    NOTHING_OPEN,
    REACH,
)
from tailblock.report.stringing import at_pitch, looks_that_clear, stringing
from tailblock.report.verdict import condition, urgency, verdict
from tailblock.report.wording import (
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
    from tailblock.report.model import Plan

NEAR_CERTAIN = 0.90
BESIDES = 2  # near certain faults that are named besides
MATTERS = 3  # and one more where a danger is likely
LIKELY = 0.50
STEPS = 3
UNKNOWNS = 4
PARTS = 4  # parts without a grade that are named
TRAITS = 4  # unknown facts that are named
SUSPECT = 0.20


def players_page(examined: Examined, plan: Plan, not_at_home: tuple[str, ...]) -> PlayersPage:
    """Return the first page.

    Parameters
    ----------
    plan
        The work that is offered, in words.
    """
    grades = examined.grades
    matters = _matters(examined)
    return PlayersPage(
        verdict=verdict(examined),
        condition=condition(examined, grades.condition, grades.rule),
        urgency=urgency(examined, grades.urgency, grades.urgency_rule),
        undetermined=f"{len(grades.undetermined)} of {grades.of} parts not judged yet"
        if grades.undetermined
        else "",
        stringing=stringing(examined),
        matters=tuple(_matter(examined, cause) for cause in matters),
        also=_also(examined, matters),
        first=tuple(islice(_first(examined, plan), STEPS)) or (NOTHING_FIRST,),
        unknown=tuple(islice(_unknown(examined), UNKNOWNS)) or (NOTHING_OPEN,),
        not_at_home=not_at_home,
        how_to_read=scale_of_chances(),
        approximate=examined.beliefs.approximate,
        error=examined.beliefs.error,
        exactness=exactness(examined.beliefs.error),
    )


def _undetermined(examined: Examined) -> str:
    grades = examined.grades
    names = [examined.checklist.parts[part].name.lower() for part in grades.undetermined]
    return (
        f"{len(names)} of {grades.of} parts could not be judged yet: {listed_some(names, PARTS)}."
    )


def _matters(examined: Examined) -> list[CauseBelief]:
    """Return what matters most: likely dangers first, then by lead."""
    danger = examined.verdict.danger_open
    suspects = [
        cause
        for cause in examined.causes
        if cause.harm != "none"
        and (cause.id in danger or cause.probability >= SUSPECT)
        and (cause.lead > 0 or cause.id in danger)
    ]
    grave = {cause.id for cause in suspects if cause.id in danger and cause.probability >= LIKELY}
    by_weight = sorted(suspects, key=lambda cause: (cause.id not in grave, -cause.lead))
    return by_weight[: MATTERS + bool(grave)]


def _matter(examined: Examined, cause: CauseBelief) -> Matter:
    checklist = examined.checklist
    return Matter(
        part=checklist.parts[cause.part].name,
        plain=cause.plain,
        sure=sure(cause.probability),
        probability=cause.probability,
        left_alone=first_sentence(checklist.faults[cause.id].left_alone or ""),
    )


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
        f"{clause(cause.plain).partition(';')[0]} ({percent(cause.probability)}"
        + (
            f", the largest work: {hours(work.hours.low)} to {hours(work.hours.high)})"
            if work and cause.id in costly
            else ")"
        )
        for cause in besides
    ]
    return f"{NEAR_CERTAIN_TOO}: {listed_some(told, BESIDES)}." if told else ""


def _first(examined: Examined, plan: Plan) -> Iterator[str]:
    """Yield what must be done first, in order."""
    checks = examined.checklist.checks
    advice = examined.advice
    may = examined.may_string
    if advice.slacken_now:
        yield "Slacken the strings today. They can stay slack for as long as you like."
    elif may.answer != "yes":
        yield "Slacken the strings." if at_pitch(examined) else "Leave the strings slack."
    looks = looks_that_clear(examined) or tuple(
        dict.fromkeys(entry.check for entry in advice.advice)
    )
    if looks and not advice.enough:
        look = checks[looks[0]]
        yield f"At the bench, look first: {clause(look.title)} ({minutes(look.minutes)})."
    work = first_work(plan)
    if work:
        yield f"Then the first work: {clause(work.plain)}."


def _to_find_out(examined: Examined, settles: Settling | None) -> str:
    """Name the look that would settle something, and why it has to wait if it has."""
    if settles is None or settles.reach == "asked":
        return NO_LOOK_LEFT
    check = examined.checklist.checks[settles.check]
    told = f"To find out: {clause(check.title)}"
    if settles.reach == "now":
        return f"{told} ({minutes(check.minutes)})"
    return f"{told}; {REACH[settles.reach]}"


def _unknown(examined: Examined) -> Iterator[str]:
    """Yield what is not known yet, the weightiest first."""
    checklist = examined.checklist
    named = examined.may_string.no_look  # said above, where stringing is spoken of
    unsettled = [entry for entry in examined.advice.unsettled if entry.fault not in named]
    for entry in unsettled[:MATTERS]:
        told = f"Whether {clause(checklist.faults[entry.fault].plain)}"
        yield f"{told}. {_to_find_out(examined, entry.settled_by)}."
    unknown = [
        clause(trait.called)
        for trait in checklist.traits.values()
        if examined.inspection.instrument.traits.get(trait.id, UNKNOWN) == UNKNOWN
    ]
    if examined.grades.undetermined:
        yield _undetermined(examined)
    if unknown:
        yield f"About the instrument: {listed_some(unknown, TRAITS)}."
    beyond = len(examined.advice.beyond)
    if beyond:
        yield f"{counted(beyond, 'useful look')} did not fit into the time of this visit."
    if not examined.advice.enough and not beyond and examined.advice.advice:
        left = counted(len(examined.advice.advice), "useful look")
        yield f"{left} can still be taken; the list is on the bench pages."
