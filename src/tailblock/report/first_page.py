"""The player's page: what is wrong, how sure, may it be strung, what first, what is not known yet.

In: `Examined`, the plan, what not to do at home. Out: `PlayersPage`, in short plain sentences for a
reader who knows nothing of the trade.
"""

from __future__ import annotations

from itertools import groupby, islice
from typing import TYPE_CHECKING

from tailblock.advice.setups import SetupMap
from tailblock.knowledge.entries import UNKNOWN
from tailblock.report.model import Grade, Matter, PartGrade, PlayersPage, Stringing
from tailblock.report.plan import first_work
from tailblock.report.sentences import (
    AT_PITCH,
    CONDITION,
    HEADLINES,
    LOOKING_CANNOT_CLEAR,
    PRESSES,
    REACH,
    URGENCY,
)
from tailblock.report.wording import (
    capital,
    clause,
    counted,
    listed,
    minutes,
    scale_of_chances,
    shortened,
    sure,
    surely,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice import CauseBelief
    from tailblock.advice.results import PartGrade as PartGraded
    from tailblock.report.examined import Examined
    from tailblock.report.model import Plan

MATTERS = 3
REASON = 160  # characters of a person's reason; the whole of it stands on the bench pages
STEPS = 3
UNKNOWNS = 5
SUSPECT = 0.20


def players_page(examined: Examined, plan: Plan, not_at_home: tuple[str, ...]) -> PlayersPage:
    """Return the first page."""
    grades = examined.grades
    return PlayersPage(
        verdict=verdict(examined),
        condition=condition(examined, grades.condition, grades.rule),
        urgency=urgency(examined, grades.urgency, grades.urgency_rule),
        undetermined=_undetermined(examined),
        stringing=stringing(examined),
        matters=_matters(examined),
        first=tuple(islice(_first(examined, plan), STEPS)),
        unknown=tuple(islice(_unknown(examined), UNKNOWNS)),
        not_at_home=not_at_home,
        how_to_read=scale_of_chances(),
    )


def verdict(examined: Examined) -> tuple[str, str]:
    """Return the verdict in two sentences: what it is and how sure, and how it stands."""
    found = examined.verdict
    named = _named(examined, found.faults)
    if found.kind == "leading":
        first = f"{_told(named)}."
    elif found.kind == "nothing-wrong":
        return (
            f"Nothing was found that needs mending; {clause(_told(named))}.",
            "It lies within what this kind of instrument does; the numbers are on the next pages.",
        )
    elif named:
        first = f"It is not clear yet what is wrong: {clause(_told(named))}."
    else:
        first = "Nothing that was looked at points to a fault, and not everything was looked at."
    return first, _standing(examined)


def _named(examined: Examined, faults: Sequence[str]) -> list[CauseBelief]:
    by_id = {cause.id: cause for cause in examined.causes}
    return [by_id[fault] for fault in faults]


def _told(named: Sequence[CauseBelief]) -> str:
    """Tell some faults in one sentence, those that are equally sure together."""
    told = [
        f"{adverb}, {listed([clause(cause.plain) for cause in group])}"
        for adverb, group in groupby(named, key=lambda cause: surely(cause.probability))
    ]
    return "; ".join([told[0], *(clause(rest) for rest in told[1:])])


def _standing(examined: Examined) -> str:
    """Say how the instrument stands, by both grades."""
    grades = examined.grades
    word = CONDITION[grades.condition][0]
    presses = PRESSES[grades.urgency]
    if grades.condition is None:
        return f"Its condition could not be determined yet, and {presses}."
    return f"As a whole it counts as {word}, and {presses}."


def condition(
    examined: Examined, value: int | None, rule: str, because: Sequence[str] = ()
) -> Grade:
    """Return a grade of condition in words."""
    word, meaning = CONDITION[value]
    return Grade(value, word, meaning, rule, _fault_names(examined, because))


def urgency(examined: Examined, value: int, rule: str, because: Sequence[str] = ()) -> Grade:
    """Return a grade of urgency in words."""
    word, meaning = URGENCY[value]
    return Grade(value, word, meaning, rule, _fault_names(examined, because))


def part_grade(examined: Examined, part: PartGraded) -> PartGrade:
    """Return the grades of a part in words."""
    return PartGrade(
        part=examined.checklist.parts[part.part].name,
        condition=condition(examined, part.condition, part.rule, part.because),
        urgency=urgency(examined, part.urgency, part.urgency_rule, part.urgency_because),
    )


def _fault_names(examined: Examined, faults: Sequence[str]) -> tuple[str, ...]:
    return tuple(examined.checklist.faults[fault].name for fault in faults)


def _undetermined(examined: Examined) -> str:
    grades = examined.grades
    if not grades.undetermined:
        return ""
    names = [examined.checklist.parts[part].name.lower() for part in grades.undetermined]
    return f"{len(names)} of {grades.of} parts could not be judged yet: {listed(names)}."


def stringing(examined: Examined) -> Stringing:
    """Return whether it may be brought to pitch, why, and what a person has taken on."""
    found = examined.may_string
    checks = examined.checklist.checks
    visits = examined.inspection.visits[: examined.visit + 1]
    why = _because(examined, found.because)
    if found.because and not found.clear_with:
        why = f"{why} {LOOKING_CANNOT_CLEAR}"
    return Stringing(
        answer=found.answer,
        headline=(AT_PITCH if _at_pitch(examined) else HEADLINES)[found.answer],
        why=why,
        clear_with=tuple(checks[check].title for check in found.clear_with),
        accepted=tuple(
            f"{shortened(entry.by)} goes on all the same "
            f"({examined.checklist.faults[entry.fault].name}): {shortened(entry.why, REASON)}"
            for visit in visits
            for entry in visit.accepted
        ),
    )


def _at_pitch(examined: Examined) -> bool:
    visit = examined.inspection.visits[examined.visit]
    return SetupMap(examined.checklist.setups).at_pitch(visit.present_setup)


def _because(examined: Examined, faults: Sequence[str]) -> str:
    if not faults:
        return ""
    told = [
        f"it is {sure(cause.probability)} that {clause(cause.plain)}"
        for cause in _named(examined, faults[:MATTERS])
    ]
    return f"{capital('; '.join(told))}."


def _matters(examined: Examined) -> tuple[Matter, ...]:
    """Return what matters most: by lead, danger above the limit in any case."""
    danger = examined.verdict.danger_open
    suspects = [
        cause
        for cause in examined.causes
        if cause.harm != "none"
        and (cause.id in danger or cause.probability >= SUSPECT)
        and (cause.lead > 0 or cause.id in danger)
    ]
    by_weight = sorted(suspects, key=lambda cause: -cause.lead)
    checklist = examined.checklist
    return tuple(
        Matter(
            part=checklist.parts[cause.part].name,
            plain=cause.plain,
            sure=sure(cause.probability),
            probability=cause.probability,
            left_alone=checklist.faults[cause.id].left_alone or "",
        )
        for cause in by_weight[:MATTERS]
    )


def _first(examined: Examined, plan: Plan) -> Iterator[str]:
    """Yield what must be done first, in order."""
    checks = examined.checklist.checks
    advice = examined.advice
    may = examined.may_string
    if advice.slacken_now:
        yield "Slacken the strings today. They can stay slack for as long as you like."
    elif may.answer != "yes":
        yield "Slacken the strings." if _at_pitch(examined) else "Leave the strings slack."
    looks = may.clear_with or tuple(dict.fromkeys(entry.check for entry in advice.advice))
    if looks and not advice.enough:
        look = checks[looks[0]]
        yield f"At the bench, look first: {clause(look.title)} ({minutes(look.minutes)})."
    work = first_work(plan)
    if work:
        yield f"Then the first work: {clause(work.plain)}."
    elif not looks and may.answer == "yes":
        yield "Nothing has to be done first."


def _unknown(examined: Examined) -> Iterator[str]:
    """Yield what is not known yet, the weightiest first."""
    checklist = examined.checklist
    for entry in examined.advice.unsettled[:MATTERS]:
        told = f"Whether {clause(checklist.faults[entry.fault].plain)}"
        if entry.check is not None and entry.reach is not None:
            how = checklist.checks[entry.check].title
            told += f". To find out: {clause(how)}; {REACH[entry.reach]}"
        yield f"{told}."
    unknown = [
        clause(trait.id.replace("-", " "))
        for trait in checklist.traits.values()
        if examined.inspection.instrument.traits.get(trait.id, UNKNOWN) == UNKNOWN
    ]
    if examined.grades.undetermined:
        yield _undetermined(examined)
    if unknown:
        yield f"About the instrument: {listed(unknown)}."
    beyond = len(examined.advice.beyond)
    if beyond:
        yield f"{counted(beyond, 'useful look')} did not fit into the time of this visit."
    if not examined.advice.enough and not beyond and examined.advice.advice:
        left = counted(len(examined.advice.advice), "useful look")
        yield f"{left} can still be taken; the list is on the bench pages."
