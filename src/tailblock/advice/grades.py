"""How bad it is and how soon something must be done: for each part, and for the instrument.

In: the ranked causes, what has been read, the state of the strings, the parts on the watch list.
Out: `Grades`. Two axes, condition and urgency, graded part by part, and no product of ranks: in
shape as the condition survey of EN 16096:2012 (its classes from memory; levels and words are ours).
The limits are from memory.

What happened in the past and the weather have no grade of their own: they speak by what they did.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.results import CauseBelief, Grades, PartGrade

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault

SERIOUS = frozenset({"serious", "destructive"})
TELLING = frozenset({"playability", *SERIOUS})  # the harm is more than looks
RAISED = 1e-9  # a probability above its start by more than rounding

NOT_DETERMINED = "not every serious fault of it has been looked at and found improbable"
SOUND = "every serious fault of it has been looked at and stands below 0.20"
NO_URGENCY = "nothing in it calls for work or watching"


@dataclass(frozen=True, slots=True)
class Seen:
    """What the readings touched, as far as grades care.

    `looked_at`: faults that an answered check shows. `at_the_top`: those of which one such answer
    is an outermost level. `at_pitch`: it stands at pitch or above. `watched`: parts that finished
    work asks to look at again.
    """

    looked_at: Collection[str]
    at_the_top: Collection[str]
    at_pitch: bool
    watched: Collection[str]


@dataclass(frozen=True, slots=True)
class _Standing:
    """One gradable fault with all that the rules ask of it."""

    fault: Fault
    probability: float
    raised: bool
    limit: float
    seen: Seen

    @property
    def serious(self) -> bool:
        return self.fault.harm in SERIOUS

    @property
    def open_danger(self) -> bool:
        return self.fault.under_tension == "danger" and self.probability > self.limit


@dataclass(frozen=True, slots=True)
class _Rule:
    """A grade, the sentence that says when it is given, and the test."""

    grade: int
    words: str
    fires: Callable[[_Standing], bool]


def _failed(s: _Standing) -> bool:
    grave = s.fault.harm == "destructive" or (
        s.fault.harm == "serious" and s.fault.under_tension == "danger"
    )
    return s.probability >= 0.80 and grave


def _unplayable(s: _Standing) -> bool:
    marked = s.fault.id in s.seen.at_the_top
    return s.probability >= 0.80 and s.fault.harm == "playability" and marked


def _worn(s: _Standing) -> bool:
    return s.probability >= 0.50 and s.fault.harm in {"playability", "cosmetic"}


def _tearing(s: _Standing) -> bool:
    danger = s.fault.under_tension == "danger"
    return s.seen.at_pitch and danger and s.probability >= 0.50


def _any_moment(s: _Standing) -> bool:
    return s.fault.pace == "any-moment" and s.serious and s.probability >= 0.30


def _moving(s: _Standing) -> bool:
    fast = s.fault.pace in {"weeks", "any-moment"}
    return s.fault.under_tension == "watch" and fast and s.probability >= 0.50


def _changing_looks(s: _Standing) -> bool:
    return s.fault.harm == "cosmetic" and s.fault.pace != "stable" and s.probability >= 0.50


CONDITION = (
    _Rule(3, "a fault at 0.80 or more that destroys, or is serious and a danger under tension", _failed),
    _Rule(2, "a serious or destructive fault at 0.50 or more", lambda s: s.serious and s.probability >= 0.50),
    _Rule(2, "a fault of playability at 0.80 or more with a reading at its top level", _unplayable),
    _Rule(1, "a fault of playability or looks at 0.50 or more", _worn),
)  # fmt: skip

URGENCY = (
    _Rule(4, "at pitch with a danger fault at 0.50 or more", _tearing),
    _Rule(4, "a serious fault at 0.30 or more that can get worse at any moment", _any_moment),
    _Rule(3, "a danger fault above the limit, raised by readings", lambda s: s.open_danger and s.raised),
    _Rule(3, "a fault to watch under tension at 0.50 or more that gets worse within weeks", _moving),
    _Rule(2, "a fault of playability or worse at 0.50 or more", lambda s: s.fault.harm in TELLING and s.probability >= 0.50),
    _Rule(1, "a danger fault above the limit by its starting chance: not yet cleared, look first", lambda s: s.open_danger),
    _Rule(1, "a serious or destructive fault between 0.10 and 0.50", lambda s: s.serious and s.probability >= 0.10),
    _Rule(1, "a fault of looks at 0.50 or more that goes on", _changing_looks),
)  # fmt: skip
WATCHED = "on the watch list of finished work"


def grade(checklist: Checklist, causes: Sequence[CauseBelief], seen: Seen) -> Grades:
    """Return the grades of every part that has gradable faults, and of the instrument.

    Parts keep the checklist's order. A part without a fault that could be graded (only past
    events, weather and harmless explanations) has no grade and is not counted.
    """
    by_part: dict[str, list[_Standing]] = {}
    for cause in causes:
        fault = checklist.faults[cause.id]
        if fault.kind == "condition" and fault.harm != "none":
            raised = cause.probability > cause.prior + RAISED
            by_part.setdefault(fault.part, []).append(
                _Standing(fault, cause.probability, raised, checklist.limits.danger, seen)
            )
    parts = tuple(_part(part, by_part[part], seen) for part in checklist.parts if part in by_part)
    return _whole(parts)


def _part(part: str, faults: Sequence[_Standing], seen: Seen) -> PartGrade:
    condition, rule, because = _condition(faults, seen)
    urgency, urgency_rule, urgency_because = _urgency(part, faults, seen)
    return PartGrade(part, condition, urgency, rule, because, urgency_rule, urgency_because)


def _condition(
    faults: Sequence[_Standing], seen: Seen
) -> tuple[int | None, str, tuple[str, ...]]:
    fired = _first(CONDITION, faults)
    if fired:
        return fired
    # Where nothing serious can be, something of the part must have been looked at all the same:
    # an unseen part is never called sound.
    serious = [s for s in faults if s.serious]
    missing = tuple(
        s.fault.id for s in serious if s.probability >= 0.20 or s.fault.id not in seen.looked_at
    )
    if missing or not any(s.fault.id in seen.looked_at for s in faults):
        return None, NOT_DETERMINED, missing or tuple(s.fault.id for s in faults)
    return 0, SOUND, ()


def _urgency(
    part: str, faults: Sequence[_Standing], seen: Seen
) -> tuple[int, str, tuple[str, ...]]:
    fired = _first(URGENCY, faults)
    if fired:
        return fired
    return (1, WATCHED, ()) if part in seen.watched else (0, NO_URGENCY, ())


def _first(
    rules: Sequence[_Rule], faults: Sequence[_Standing]
) -> tuple[int, str, tuple[str, ...]] | None:
    """Return the first rule that any fault of the part fires, with all faults that fire it."""
    for rule in rules:
        because = tuple(s.fault.id for s in faults if rule.fires(s))
        if because:
            return rule.grade, rule.words, because
    return None


def _whole(parts: Sequence[PartGrade]) -> Grades:
    """Return the worst of the parts; the rule is that of the part that has it."""
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


def watched_parts(checklist: Checklist, done: Collection[str]) -> frozenset[str]:
    """Return the parts that finished remedies ask to look at again."""
    checks = (
        checklist.checks.get(watch.check)
        for remedy in done
        for watch in checklist.remedies[remedy].watch
    )
    return frozenset(check.part for check in checks if check)


def looked_at(shown: Mapping[str, Collection[str]], answered: Collection[str]) -> frozenset[str]:
    """Return the faults that at least one answered check shows.

    Parameters
    ----------
    shown
        For each check the faults that it shows, directly or through a symptom.
    answered
        Ids of the checks with an answer that counts.
    """
    return frozenset(fault for check in answered for fault in shown.get(check, ()))
