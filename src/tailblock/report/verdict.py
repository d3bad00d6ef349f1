"""The verdict in two sentences, and the grades in words.

In: `Examined`. Out: plain sentences and `Grade`s. What leads and which rule fired is advice's.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.model import Grade, PartGrade
from tailblock.report.sentences import (
    CONDITION,
    PRESSES,
    PRESSES_SLACK,
    PRESSES_UNSTRUNG,
    URGENCY,
)
from tailblock.report.wording import briefly, clause, listed, some, surely

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.advice import CauseBelief
    from tailblock.advice.results import PartGrade as PartGraded
    from tailblock.report.examined import Examined

PROBABLE = 0.50
TOLD = 3  # faults in the opening sentence
PLANNED = 2  # the urgency that plans the work
NAMED = 2  # faults that are named for a grade of a part


def verdict(examined: Examined, matters: Sequence[CauseBelief], *, holds: bool) -> tuple[str, str]:
    """Return the verdict in two sentences: what it is and how sure, and how it stands.

    Parameters
    ----------
    matters
        What the page lists as wrong, in its order: the sentence names the first of them that are
        probable, so that it and the list say the same.
    holds
        Whether nothing gets worse while the strings are slack.
    """
    found = examined.verdict
    by_lead = named(examined, found.faults)
    if found.kind == "leading":
        by_lead = [c for c in matters if c.probability >= PROBABLE][:TOLD] or by_lead
    if found.kind == "leading":
        first = f"{_told(by_lead)}."
    elif found.kind == "nothing-wrong":
        return (
            _("Nothing was found that needs mending; {by_lead}.").format(
                by_lead=clause(_told(by_lead))
            ),
            _(
                "It lies within what this kind of instrument does; the numbers are on the next "
                "pages."
            ),
        )
    elif by_lead:
        first = _("It is not clear yet what is wrong: {by_lead}.").format(
            by_lead=clause(_told(by_lead))
        )
    elif not _looked(examined):
        first = _(
            "Nothing has been looked at yet: what follows is what is usual for one of its kind and "
            "its history."
        )
    else:
        first = _("Nothing that was looked at points to a fault, and not everything was looked at.")
    return first, _standing(examined, holds=holds)


def _looked(examined: Examined) -> bool:
    """Return whether anything was answered up to this visit."""
    visits = examined.inspection.visits[: examined.visit + 1]
    return any(not reading.retracted for visit in visits for reading in visit.readings)


def named(examined: Examined, faults: Sequence[str]) -> list[CauseBelief]:
    """Return the beliefs in some faults, in the order of the ids."""
    by_id = {cause.id: cause for cause in examined.causes}
    return [by_id[fault] for fault in faults]


def _told(named: Sequence[CauseBelief]) -> str:
    """Tell some faults in one sentence, those that are equally sure together."""
    told = [
        f"{adverb}, {listed([briefly(cause.plain) for cause in group])}"
        for adverb, group in groupby(named, key=lambda cause: surely(cause.probability))
    ]
    return "; ".join([told[0], *(clause(rest) for rest in told[1:])])


def _standing(examined: Examined, *, holds: bool) -> str:
    """Say how the instrument stands, by both grades, and by what stringing it waits for."""
    grades = examined.grades
    word = _(CONDITION[grades.condition][0])
    presses = _(PRESSES[grades.urgency])
    if grades.urgency == PLANNED and examined.may_string.answer != "yes":
        presses = _(PRESSES_SLACK) if holds else _(PRESSES_UNSTRUNG)
    if grades.condition is None:
        return _("Its condition could not be determined yet, and {presses}.").format(
            presses=presses
        )
    return _("As a whole it counts as {word}, and {presses}.").format(word=word, presses=presses)


def condition(
    examined: Examined, value: int | None, rule: str, because: Sequence[str] = ()
) -> Grade:
    """Return a grade of condition in words."""
    word, meaning = map(_, CONDITION[value])
    return Grade(value, word, meaning, _(rule), _fault_names(examined, because))


def urgency(examined: Examined, value: int, rule: str, because: Sequence[str] = ()) -> Grade:
    """Return a grade of urgency in words."""
    word, meaning = map(_, URGENCY[value])
    return Grade(value, word, meaning, _(rule), _fault_names(examined, because))


def part_grade(examined: Examined, part: PartGraded) -> PartGrade:
    """Return the grades of a part in words; what does not press names no faults.

    What was not looked at of a quiet part stands on the last page.
    """
    because = part.because if part.urgency else ()
    return PartGrade(
        part=examined.checklist.parts[part.part].name,
        condition=condition(examined, part.condition, part.rule, because),
        urgency=urgency(examined, part.urgency, part.urgency_rule, part.urgency_because),
    )


def _fault_names(examined: Examined, faults: Sequence[str]) -> tuple[str, ...]:
    return some([examined.checklist.faults[fault].name for fault in faults], NAMED)
