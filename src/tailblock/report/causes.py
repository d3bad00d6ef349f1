"""Probable causes with their reasons, and what is still open, in words.

In: `Examined`. Out: the parts of the report that argue. No probability is computed here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import LEAST, RAISED
from tailblock.messages import _
from tailblock.report.model import Cause, Causes, Open, OtherCause, Weight
from tailblock.report.sentences import (
    LEANS,
    LEANS_NONE,
    NOT_WEIGHED,
    NOTHING_SETTLES,
    PACE,
    REACH,
    STEADY,
    STEADY_NONE,
    TENSION,
)
from tailblock.report.wording import DECIBANS, percent, sure, weight

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tailblock.advice import CauseBelief, Settling, Unsettled, Weighed
    from tailblock.report.examined import Examined

ARGUED = 0.20  # from here on a fault that the readings raised is argued at length
LISTED = 0.20  # from here on a fault is named at all
OUT = 5.0  # decibans; what the readings brought down by so much is named as spoken against
SHOWN = 6  # readings for or against one fault; the others are only counted
LIGHT = 0.5  # decibans; a reading that weighs less is only counted


def causes(examined: Examined, said: Callable[[str, int], str]) -> Causes:
    """Return the causes that are argued, those that are only named, and a word on the rest.

    What no reading moved and what the readings speak against is named with its numbers; the rest is
    counted.

    Parameters
    ----------
    said
        The reading of a check on a visit, in words.
    """
    argued = [cause for cause in examined.causes if _is_argued(examined, cause)]
    rest = [cause for cause in examined.causes if cause not in argued]
    named = [cause for cause in rest if cause.probability >= LISTED]
    others = [cause for cause in named if abs(cause.decibans) >= LEAST]
    unmoved = [cause for cause in named if abs(cause.decibans) < LEAST]
    spoken_against = [cause for cause in rest if cause.prior >= LISTED and cause.decibans <= -OUT]
    below = len([cause for cause in rest if cause not in named and cause not in spoken_against])
    return Causes(
        argued=tuple(_argue(examined, cause, said) for cause in argued),
        others=tuple(_mention(examined, cause) for cause in others),
        unmoved=tuple(f"{cause.name} ({percent(cause.probability)})" for cause in unmoved),
        spoken_against=tuple(
            _("{name} ({prior} to {probability})").format(
                name=cause.name, prior=percent(cause.prior), probability=percent(cause.probability)
            )
            for cause in spoken_against
            if cause not in named
        ),
        below=_("Below {listed} now: {below} more.").format(listed=percent(LISTED), below=below)
        if below
        else "",
        method=_(DECIBANS),
        steady=examined.steadiness.steady if examined.steadiness else None,
        steadiness=_steadiness(examined),
    )


def _steadiness(examined: Examined) -> str:
    """Say whether the leader leads whatever the words stand for within their ranges."""
    found = examined.steadiness
    if found is None:
        return _(NOT_WEIGHED)
    share = percent(found.agreed)
    if not found.first:
        return (_(STEADY_NONE) if found.steady else _(LEANS_NONE)).format(share=share)
    leads = _("{name} leads").format(name=examined.checklist.faults[found.first].name)
    return (_(STEADY) if found.steady else _(LEANS)).format(leads=leads, share=share)


def _is_argued(examined: Examined, cause: CauseBelief) -> bool:
    named = (*examined.verdict.faults, *examined.verdict.danger_open)
    raised = cause.decibans >= RAISED and cause.probability >= ARGUED
    return cause.id in named or raised


def _argue(examined: Examined, cause: CauseBelief, said: Callable[[str, int], str]) -> Cause:
    fault = examined.checklist.faults[cause.id]
    reasons = examined.reasons[cause.id]
    swing = examined.steadiness.swings[cause.id] if examined.steadiness else None
    in_favour = _weights(examined, reasons.in_favour, said)
    against = _weights(examined, reasons.against, said)
    return Cause(
        id=cause.id,
        part=examined.checklist.parts[cause.part].name,
        name=cause.name,
        plain=cause.plain,
        sure=sure(cause.probability),
        probability=cause.probability,
        low=swing.low if swing else None,
        high=swing.high if swing else None,
        prior=cause.prior,
        decibans=cause.decibans,
        in_favour=in_favour,
        against=against,
        lighter=len(reasons.in_favour + reasons.against) - len(in_favour + against),
        brought_about_by=tuple(examined.checklist.faults[id_].name for id_ in reasons.trail),
        settles=settled_by(examined, reasons.settles) if reasons.settles else "",
        under_tension=_(TENSION[fault.under_tension]),
        pace=_(PACE[fault.pace]),
        left_alone=fault.left_alone or "",
    )


def _weights(
    examined: Examined, weighed: Sequence[Weighed], said: Callable[[str, int], str]
) -> tuple[Weight, ...]:
    several = examined.visit > 0
    return tuple(
        Weight(
            check=examined.checklist.checks[entry.check].title,
            reading=said(entry.check, entry.visit),
            visit=_("visit {visit}").format(visit=entry.visit + 1) if several else "",
            decibans=entry.decibans,
            means=weight(entry.decibans),
        )
        for entry in weighed[:SHOWN]
        if abs(entry.decibans) >= LIGHT
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
        settled_by=settled_by(examined, entry.settled_by)
        if entry.settled_by
        else _(NOTHING_SETTLES),
    )


def settled_by(examined: Examined, settles: Settling) -> str:
    """Say which check would settle a fault best, and when it can be done."""
    return f"{examined.checklist.checks[settles.check].title} ({_(REACH[settles.reach])})"
