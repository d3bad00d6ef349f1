"""Probable causes, what is still open, what to look at next and what is held back, in words.

In: `Examined`. Out: the parts of the report that argue. No probability is computed here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.model import (
    AcceptedMove,
    Cause,
    Causes,
    Held,
    NextCheck,
    Open,
    OtherCause,
    Weight,
)
from tailblock.report.sentences import LOOKING_CANNOT_CLEAR, PACE, REACH, TENSION
from tailblock.report.wording import DECIBANS, listed, percent, setup_words, sure, weight

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from tailblock.advice import Advised, CauseBelief, HeldBack, Unsettled, Weighed
    from tailblock.report.examined import Examined

ARGUED = 0.20  # from here on a fault that the readings raised is argued at length
LISTED = 0.05  # from here on a fault is named at all
RAISED = 1e-9  # a probability above its start by more than rounding
SHOWN = 6  # readings for or against one fault; the lighter ones are only counted
ENOUGH = "No further look is worth its minutes, and no danger is left that looking could clear."


def causes(examined: Examined, said: Callable[[str, int], str]) -> Causes:
    """Return the causes that are argued, those that are only listed, and a word on the rest.

    Parameters
    ----------
    said
        The reading of a check on a visit, in words.
    """
    argued = [cause for cause in examined.causes if _is_argued(examined, cause)]
    others = [
        cause
        for cause in examined.causes
        if cause not in argued and max(cause.probability, cause.prior) >= LISTED
    ]
    rest = len(examined.causes) - len(argued) - len(others)
    return Causes(
        argued=tuple(_argue(examined, cause, said) for cause in argued),
        others=tuple(_mention(examined, cause) for cause in others),
        below=f"Below {percent(LISTED)} from the start, and now: {rest} more." if rest else "",
        method=DECIBANS,
    )


def _is_argued(examined: Examined, cause: CauseBelief) -> bool:
    named = (*examined.verdict.faults, *examined.verdict.danger_open)
    raised = cause.probability > cause.prior + RAISED
    return cause.id in named or (raised and cause.probability >= ARGUED)


def _argue(examined: Examined, cause: CauseBelief, said: Callable[[str, int], str]) -> Cause:
    fault = examined.checklist.faults[cause.id]
    reasons = examined.reasons[cause.id]
    return Cause(
        id=cause.id,
        part=examined.checklist.parts[cause.part].name,
        name=cause.name,
        plain=cause.plain,
        sure=sure(cause.probability),
        probability=cause.probability,
        prior=cause.prior,
        decibans=cause.decibans,
        in_favour=_weights(examined, reasons.in_favour, said),
        against=_weights(examined, reasons.against, said),
        lighter=max(0, len(reasons.in_favour) - SHOWN) + max(0, len(reasons.against) - SHOWN),
        brought_about_by=tuple(examined.checklist.faults[id_].name for id_ in reasons.trail),
        settles=_settles(examined, reasons.settles) if reasons.settles else "",
        under_tension=TENSION[fault.under_tension],
        pace=PACE[fault.pace],
        left_alone=fault.left_alone or "",
    )


def _settles(examined: Examined, check: str) -> str:
    held = {entry.check for entry in examined.advice.held_back if not entry.accepted}
    title = examined.checklist.checks[check].title
    return f"{title} (not yet: it adds load)" if check in held else title


def _weights(
    examined: Examined, weighed: Sequence[Weighed], said: Callable[[str, int], str]
) -> tuple[Weight, ...]:
    several = examined.visit > 0
    return tuple(
        Weight(
            check=examined.checklist.checks[entry.check].title,
            reading=said(entry.check, entry.visit),
            visit=f"visit {entry.visit + 1}" if several else "",
            decibans=entry.decibans,
            means=weight(entry.decibans),
        )
        for entry in weighed[:SHOWN]
    )


def _mention(examined: Examined, cause: CauseBelief) -> OtherCause:
    return OtherCause(
        part=examined.checklist.parts[cause.part].name,
        name=cause.name,
        sure=sure(cause.probability),
        probability=cause.probability,
        prior=cause.prior,
        decibans=cause.decibans,
    )


def still_open(examined: Examined) -> tuple[Open, ...]:
    """Return what is neither likely nor unlikely, each with what would settle it."""
    return tuple(_open(examined, entry) for entry in examined.advice.unsettled)


def _open(examined: Examined, entry: Unsettled) -> Open:
    fault = examined.checklist.faults[entry.fault]
    return Open(
        name=fault.name,
        plain=fault.plain,
        sure=sure(entry.probability),
        probability=entry.probability,
        settled_by=_settled_by(examined, entry),
    )


def _settled_by(examined: Examined, entry: Unsettled) -> str:
    if entry.check is None or entry.reach is None:
        return "nothing that is still unread shows it; time and another visit may"
    return f"{examined.checklist.checks[entry.check].title} ({REACH[entry.reach]})"


def next_checks(examined: Examined, numbers: Mapping[str, int]) -> tuple[NextCheck, ...]:
    """Return the checks still advised, in their order.

    Parameters
    ----------
    numbers
        The number of each caution's safety note.
    """
    return tuple(_next(examined, advised, numbers) for advised in examined.advice.advice)


def _next(examined: Examined, advised: Advised, numbers: Mapping[str, int]) -> NextCheck:
    check = examined.checklist.checks[advised.check]
    return NextCheck(
        check=check.title,
        minutes=advised.minutes,
        setup_minutes=advised.setup_minutes,
        reason=advised.reason,
        state=setup_words(advised.setup) if advised.setup_minutes else "",
        condition=advised.if_trait or "",
        trap=check.trap or "",
        cautions=tuple(
            sorted(numbers[caution] for caution in check.cautions if caution in numbers)
        ),
    )


def held(examined: Examined) -> tuple[Held, ...]:
    """Return the moves that are held back, or that somebody has taken upon themselves."""
    return tuple(_held(examined, entry) for entry in examined.advice.held_back)


def _held(examined: Examined, entry: HeldBack) -> Held:
    checks = examined.checklist.checks
    move = (
        f"Bringing it to: {setup_words(entry.setup)}"
        if entry.setup is not None
        else checks[entry.check].title
        if entry.check
        else ""
    )
    clear = [checks[check].title for check in entry.clear_with]
    return Held(
        move=move,
        because=tuple(examined.checklist.faults[fault].name for fault in entry.because),
        clear_with=f"Looking that could clear it: {listed(clear)}"
        if clear
        else LOOKING_CANNOT_CLEAR,
        accepted=entry.accepted,
    )


def accepted(examined: Examined) -> tuple[AcceptedMove, ...]:
    """Return what persons have taken upon themselves on this job, in their own words."""
    visits = examined.inspection.visits[: examined.visit + 1]
    faults = examined.checklist.faults
    return tuple(
        AcceptedMove(
            fault=faults[entry.fault].name,
            by=entry.by,
            why=entry.why,
            at=entry.at.isoformat(sep=" ", timespec="minutes") if entry.at else "",
        )
        for visit in visits
        for entry in visit.accepted
    )
