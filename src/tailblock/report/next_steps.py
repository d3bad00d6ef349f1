"""What to look at next, what is held back, and what persons took upon themselves, in words.

In: `Examined`. Out: the parts of the report that say how to go on. The order and the reasons are
advice's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.model import AcceptedMove, Held, NextCheck
from tailblock.report.sentences import LOOKING_CANNOT_CLEAR, NO_LOOK
from tailblock.report.wording import counted, listed, listed_some, setup_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice import Advised, HeldBack
    from tailblock.report.examined import Examined

ENOUGH = N_("No further look is worth its minutes, and no danger is left that looking could clear.")
LISTED = 8  # checks: each answer changes the order of the rest
CLEARING = 5  # checks that are named as clearing a held-back move


def worth_doing(examined: Examined) -> tuple[Advised, ...]:
    """Return the advised checks that are listed: those worth their minutes, and no more than a few.

    If none is worth its minutes the first few are listed for whoever goes on all the same.
    """
    stop = examined.checklist.limits.stop_bits_per_minute
    advice = examined.advice.advice
    worth = tuple(one for one in advice if one.step != "gain" or one.bits_per_minute >= stop)
    return (worth or advice)[:LISTED]


def next_checks(examined: Examined, numbers: Mapping[str, int]) -> tuple[NextCheck, ...]:
    """Return the checks that are worth doing, in their order.

    Parameters
    ----------
    numbers
        The number of each caution's safety note.
    """
    return tuple(_next(examined, advised, numbers) for advised in worth_doing(examined))


def unlisted(examined: Examined) -> str:
    """Say how many advised checks are not listed."""
    left = len(examined.advice.advice) - len(worth_doing(examined))
    return (
        _("{left} of less worth could follow.").format(
            left=counted(left, "{number} check", "{number} checks")
        )
        if left
        else ""
    )


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
    """Return what is held back or was accepted by a person, moves with equal reasons together."""
    groups: dict[tuple[bool, tuple[str, ...], tuple[str, ...]], list[HeldBack]] = {}
    for entry in examined.advice.held_back:
        groups.setdefault((entry.accepted, entry.because, entry.clear_with), []).append(entry)
    return tuple(
        Held(
            moves=tuple(_move(examined, entry) for entry in entries),
            because=_names(examined, entries[0].because),
            clear_with=_clear_with(examined, entries[0]),
            accepted=entries[0].accepted,
        )
        for entries in groups.values()
    )


def _names(examined: Examined, faults: Sequence[str]) -> tuple[str, ...]:
    return tuple(examined.checklist.faults[fault].name for fault in faults)


def _move(examined: Examined, entry: HeldBack) -> str:
    if entry.check is not None:
        return examined.checklist.checks[entry.check].title
    return _("Bringing it to: {setup_words}").format(setup_words=setup_words(entry.setup or {}))


def _clear_with(examined: Examined, held_back: HeldBack) -> str:
    if not held_back.clear_with:
        return _(LOOKING_CANNOT_CLEAR)
    titles = [examined.checklist.checks[check].title for check in held_back.clear_with]
    told = _("Looking that could clear it: {titles}.").format(titles=listed_some(titles, CLEARING))
    if held_back.no_look:
        told = f"{told} {listed(_names(examined, held_back.no_look))}: {_(NO_LOOK)}."
    return told


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
