"""May it be brought to pitch: the answer in plain words, why, and what could still clear the way.

In: `Examined`. Out: `Stringing`. The answer itself is advice's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.setups import map_of
from tailblock.messages import _
from tailblock.report.model import Stringing
from tailblock.report.sentences import (
    AT_PITCH,
    HEADLINES,
    LOOKING_CANNOT_CLEAR,
    MAY_ONCE_LOOKED,
    MAY_ONCE_MENDED,
    MEND_FIRST,
    NO_LOOK,
)
from tailblock.report.verdict import named
from tailblock.report.wording import capital, clause, listed_some, shortened, sure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.report.examined import Examined

DANGERS = 3  # dangers that are named
REASON = 160  # characters of a person's reason; the whole of it stands on the bench pages
CLEARING = 3  # looks that are named as clearing a danger
SETTLED = 0.80  # from here on a danger is mended, not looked at again


def stringing(examined: Examined) -> Stringing:
    """Return whether it may be brought to pitch, why, and what a person has taken on."""
    found = examined.may_string
    checks = examined.checklist.checks
    visits = examined.inspection.visits[: examined.visit + 1]
    looks = looks_that_clear(examined)
    settled = _settled(examined)
    no_look = _no_look(examined) if looks or settled else []
    why = [_because(examined, [fault for fault in found.because if fault not in no_look])]
    if found.because and not looks:
        why.append(_(MEND_FIRST) if settled else _(LOOKING_CANNOT_CLEAR))
    if no_look:
        why.append(f"{_because(examined, no_look).removesuffix('.')}: {_(NO_LOOK)}.")
    if looks:
        why.append(f"{_(MAY_ONCE_LOOKED)}{_(MAY_ONCE_MENDED) if no_look else ''}.")
    return Stringing(
        answer=found.answer,
        headline=_((AT_PITCH if at_pitch(examined) else HEADLINES)[found.answer]),
        why=" ".join(filter(None, why)),
        clear_with=listed_some([clause(checks[check].title) for check in looks], CLEARING)
        if looks
        else "",
        accepted=tuple(
            _("{by} goes on all the same ({name}): {why}").format(
                by=shortened(entry.by),
                name=examined.checklist.faults[entry.fault].name,
                why=shortened(entry.why, REASON),
            )
            for visit in visits
            for entry in visit.accepted
        ),
    )


def _settled(examined: Examined) -> bool:
    """Return whether a danger is so likely that looking again is not what is needed."""
    return any(
        cause.probability >= SETTLED for cause in named(examined, examined.may_string.because)
    )


def _no_look(examined: Examined) -> list[str]:
    """Return the dangers that no look can clear, but for those that are mended in any case."""
    causes = named(examined, examined.may_string.no_look)
    return [cause.id for cause in causes if cause.probability < SETTLED]


def looks_that_clear(examined: Examined) -> tuple[str, ...]:
    """Return the looks that could still clear the way to pitch, best first."""
    return () if _settled(examined) else examined.may_string.clear_with


def at_pitch(examined: Examined) -> bool:
    """Return whether the instrument stands at pitch now."""
    visit = examined.inspection.visits[examined.visit]
    return map_of(examined.checklist).at_pitch(visit.present_setup)


def _because(examined: Examined, faults: Sequence[str]) -> str:
    if not faults:
        return ""
    told = [
        _("it is {probability} that {plain}").format(
            probability=sure(cause.probability), plain=clause(cause.plain)
        )
        for cause in named(examined, faults[:DANGERS])
    ]
    return f"{capital('; '.join(told))}."
