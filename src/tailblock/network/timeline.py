"""What becomes of a fault between two visits: a noisy-OR with the old node as its cause.

In: the days between two visits, the remedies done, the entry of the fault. Out: `Passage`, a leak
and the strength of the link from the old node, or None where the fault is the same node still.

- A repaired fault stays with chance prod(1 - how_well) and is newly there with chance
  1 - prod(1 - may_leave).
- A climate fault forgets: P(still) = k + (1 - k) alone, k = exp(-days / memory).
- After a long gap every condition may have set in anew, with a chance that grows with the days.

The time constants stand in the checklist's `limits` and are from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.measures import parse_duration

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from tailblock.knowledge.entries import Fault, Remedy, Scales


@dataclass(frozen=True, slots=True)
class VisitSkeleton:
    """What of a visit shapes the network: when it was, and the remedies done before it."""

    stage: str
    day: date
    work: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Passage:
    """P(there now | not there before) = leak; being there before brings it with `strength`."""

    leak: float
    strength: float


def after_work(fault: Fault, work: Sequence[Remedy]) -> Passage | None:
    """Return what the work does to a fault, or None if it does not touch it.

    P(absent now | before) = [1 - before * prod(1 - how_well)] * prod(1 - may_leave).
    """
    fixed = [fix.how_well for remedy in work for fix in remedy.fixes if fix.fault == fault.id]
    left = [
        leave.chance for remedy in work for leave in remedy.may_leave if leave.fault == fault.id
    ]
    if fault.kind == "event" or not (fixed or left):
        return None
    return Passage(
        leak=1.0 - math.prod(1.0 - chance for chance in left),
        strength=math.prod(1.0 - chance for chance in fixed),
    )


def after_weather(alone: float, gap_days: float, limits: Scales) -> Passage:
    """Return what the days do to a climate fault with that starting chance."""
    kept = math.exp(-gap_days / parse_duration(limits.climate_memory))
    leak = (1.0 - kept) * alone
    return Passage(leak=leak, strength=1.0 - (1.0 - kept) * (1.0 - alone) / (1.0 - leak))


def onset(fault: Fault, gap_days: float, limits: Scales) -> float | None:
    """Return the share of its starting chance that sets in anew, or None if the gap is short."""
    if fault.kind != "condition" or gap_days <= parse_duration(limits.fresh_after):
        return None
    over = limits.onset_over[fault.pace]
    return 0.0 if over is None else min(1.0, gap_days / parse_duration(over))
