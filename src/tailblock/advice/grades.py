"""How bad it is and how soon something must be done: for each part, and for the instrument.

In: the ranked causes, what the readings touched, the parts on the watch list. Out: `Grades`. Two
axes, condition and urgency, graded part by part, and no product of ranks: in shape as the condition
survey of EN 16096:2012 (its classes from memory; the levels and words are ours).

What happened in the past and the weather have no grade of their own: they speak by what they did.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.ranking import LEAST, decibans, found
from tailblock.advice.results import Grades, PartGrade
from tailblock.advice.rules import (
    CONDITION,
    NO_URGENCY,
    NOT_DETERMINED,
    SOUND,
    URGENCY,
    WATCHED,
    Standing,
)

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from tailblock.advice.results import CauseBelief
    from tailblock.advice.rules import Rule
    from tailblock.knowledge.checklist import Checklist

    Fired = tuple[int, str, tuple[str, ...]]  # grade, words, faults

RULED_OUT = 0.20  # below this a serious fault that was looked at counts as not there
LIKELY = 0.50  # what is as likely as not, and unseen, keeps a part from being called sound


@dataclass(frozen=True, slots=True)
class Seen:
    """What the readings touched, as far as grades care.

    `looked_at`: faults that an answered check shows. `at_the_top`: those of which such an answer is
    an outermost level. `at_pitch`: it stands at pitch or above. `watched`: parts that finished work
    asks to look at again.
    """

    looked_at: Collection[str]
    at_the_top: Collection[str]
    at_pitch: bool
    watched: Collection[str]


def grade(checklist: Checklist, causes: Sequence[CauseBelief], seen: Seen) -> Grades:
    """Return the grades of every part that has gradable faults, and of the instrument.

    Parts keep the checklist's order. A part without a fault that could be graded (only past
    events, weather and harmless explanations) has no grade and is not counted.
    """
    by_part: dict[str, list[Standing]] = {}
    for cause in causes:
        fault = checklist.faults[cause.id]
        if fault.kind == "condition" and fault.harm != "none":
            standing = Standing(
                fault=fault,
                probability=cause.probability,
                raised=decibans(cause.probability, cause.prior) >= LEAST,
                looked_at=cause.id in seen.looked_at,
                found=found(cause, seen.looked_at),
                limit=checklist.limits.danger,
                at_the_top=cause.id in seen.at_the_top,
                at_pitch=seen.at_pitch,
            )
            by_part.setdefault(fault.part, []).append(standing)
    return _whole([_part(part, by_part[part], seen) for part in checklist.parts if part in by_part])


def watched_parts(checklist: Checklist, done: Collection[str]) -> frozenset[str]:
    """Return the parts that finished remedies ask to look at again."""
    return frozenset(
        checklist.checks[watch.check].part
        for remedy in done
        for watch in checklist.remedies[remedy].watch
    )


def _part(part: str, faults: Sequence[Standing], seen: Seen) -> PartGrade:
    condition, rule, because = _first(CONDITION, faults) or _without_fault(faults)
    quiet = (1, WATCHED, ()) if part in seen.watched else (0, NO_URGENCY, ())
    urgency, urgency_rule, urgency_because = _first(URGENCY, faults) or quiet
    return PartGrade(part, condition, urgency, rule, because, urgency_rule, urgency_because)


def _first(rules: Sequence[Rule], faults: Sequence[Standing]) -> Fired | None:
    """Return the first rule that any fault of the part fires, with all faults that fire it."""
    for rule in rules:
        because = tuple(s.fault.id for s in faults if rule.fires(s))
        if because:
            return rule.grade, rule.words, because
    return None


def _without_fault(faults: Sequence[Standing]) -> tuple[int | None, str, tuple[str, ...]]:
    """Return sound, or not determined with the faults that stand in the way.

    Where nothing serious can be, something of the part must have been looked at all the same: an
    unseen part is never called sound.
    """
    missing = tuple(
        s.fault.id
        for s in faults
        if s.probability >= LIKELY or (s.grave and (s.probability >= RULED_OUT or not s.looked_at))
    )
    if missing:
        return None, NOT_DETERMINED, missing
    if not any(s.looked_at for s in faults):
        return None, NOT_DETERMINED, tuple(s.fault.id for s in faults)
    return 0, SOUND, ()


def _whole(parts: Sequence[PartGrade]) -> Grades:
    """Return the worst of the parts; each rule is that of the first part that has it."""
    determined = [part for part in parts if part.condition is not None]
    worst = max(determined, key=lambda part: part.condition or 0, default=None)
    urgent = max(parts, key=lambda part: part.urgency, default=None)
    return Grades(
        parts=tuple(parts),
        condition=worst.condition if worst else None,
        urgency=urgent.urgency if urgent else 0,
        rule=worst.rule if worst else NOT_DETERMINED,
        urgency_rule=urgent.urgency_rule if urgent else NO_URGENCY,
        undetermined=tuple(part.part for part in parts if part.condition is None),
        of=len(parts),
    )
