"""Which faults together explain the readings, and which readings surprise, in words.

In: `Examined`. Out: `Together` for the bench. No probability is computed here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.conventions import number
from tailblock.report.model import Covers, Explanation, OtherExplanation, Together
from tailblock.report.sentences import (
    NOT_OUTSIDE,
    NOT_TOGETHER,
    NOTHING_OFF_NORMAL,
    OUTSIDE,
    TOGETHER,
)
from tailblock.report.wording import percent

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tailblock.advice import explanations
    from tailblock.report.examined import Examined


def together(examined: Examined, said: Callable[[str, int], str]) -> Together:
    """Return the leading joint explanations of the readings off normal, and what surprises.

    Parameters
    ----------
    said
        The reading of a check on a visit, in words.
    """
    found = examined.explanations
    if found is None:
        return Together(_(NOT_TOGETHER), (), None, (), (), "")
    faults = examined.checklist.faults
    first, others = (found.sets[0], found.sets[1:]) if found.sets else (None, ())
    return Together(
        method=_(TOGETHER) if first else _(NOTHING_OFF_NORMAL),
        asked=tuple(faults[id_].name for id_ in found.in_question),
        leading=_explanation(examined, first) if first else None,
        others=tuple(_other(examined, first, other) for other in others) if first else (),
        surprising=tuple(_surprising(examined, said)),
        outside=_outside(examined),
    )


def _explanation(examined: Examined, one: explanations.Explanation) -> Explanation:
    covered: dict[str, list[str]] = {fault: [] for fault in one.faults}
    for reading in one.readings:
        if reading.fault is not None:
            covered[reading.fault].append(reading_name(examined, reading.check, reading.visit))
    return Explanation(
        probability=one.probability,
        faults=tuple(
            Covers(examined.checklist.faults[fault].name, tuple(readings))
            for fault, readings in covered.items()
        ),
        uncovered=tuple(
            reading_name(examined, reading.check, reading.visit) for reading in one.uncovered
        ),
    )


def _other(
    examined: Examined, first: explanations.Explanation, other: explanations.Explanation
) -> OtherExplanation:
    faults = examined.checklist.faults
    return OtherExplanation(
        probability=other.probability,
        added=tuple(faults[id_].name for id_ in other.faults if id_ not in first.faults),
        left_out=tuple(faults[id_].name for id_ in first.faults if id_ not in other.faults),
    )


def reading_name(examined: Examined, check: str, visit: int) -> str:
    """Return the title of a check, and its visit if there were several."""
    several = _(" (visit {visit})").format(visit=visit + 1) if examined.visit else ""
    return f"{examined.checklist.checks[check].title}{several}"


def _surprising(examined: Examined, said: Callable[[str, int], str]) -> Iterator[str]:
    for one in examined.surprises or ():
        if one.named:
            name = reading_name(examined, one.check, one.visit)
            yield (
                _(
                    "{name} ({check}): {number} bits, a chance of {percent} by all other readings"
                ).format(
                    name=name,
                    check=said(one.check, one.visit),
                    number=number(f"{one.bits:.1f}"),
                    percent=percent(2.0 ** (-one.bits)),
                )
            )


def _outside(examined: Examined) -> str:
    """Say how all readings stand among those of drawn instruments."""
    whole = examined.surprise
    if whole is None:
        return ""
    words = _(OUTSIDE) if whole.outside else _(NOT_OUTSIDE)
    return words.format(share=percent(whole.share), sampled=whole.sampled)
