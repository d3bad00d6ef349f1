"""Which unread check would settle a fault best, and when it can be done.

In: the checklist, what could be read on the visit with its gains and the faults that it shows,
whether danger holds moves back. Out: a `Settling` for each fault that something unread shows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tailblock.advice.results import Settling

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.advice.candidates import Candidate
    from tailblock.advice.gain import Gain
    from tailblock.advice.results import Reach
    from tailblock.knowledge.checklist import Checklist

# What serves first. Asking the player comes last: it points, and settles nothing.
ORDER: Mapping[Reach, int] = {"now": 0, "held-back": 1, "opened": 2, "asked": 3}
ENOUGH = 0.1  # of the most that anything tells of the fault: less is no way to settle it


def settling(
    checklist: Checklist,
    found: Sequence[Candidate],
    gains: Mapping[str, Gain],
    shown: Mapping[str, Collection[str]],
    *,
    held: bool,
) -> Mapping[str, Settling]:
    """Return, for every fault that an unread check shows, the one that serves best.

    A look at the bench that can be taken now comes first, then one that is held back, then what
    opening shows, then a question to the player; within each the one that tells most bits. A check
    that tells less than a tenth of what the best at the bench would tell does not count as a way.

    Parameters
    ----------
    shown
        Check -> the faults that it shows, directly or through a symptom; every candidate is in it.
        What only tells about a neighbour settles nothing.
    held
        Whether an open danger holds back what adds load or tension.
    """
    ways: dict[str, list[_Way]] = {}
    for candidate in found:
        reach = _reach(checklist, candidate, held=held)
        for fault, bits in gains[candidate.tells].about.items():
            if bits > 0.0 and fault in shown[candidate.tells]:
                ways.setdefault(fault, []).append(_Way(candidate.check, reach, bits))
    return {fault: _best(told) for fault, told in ways.items()}


class _Way(NamedTuple):
    check: str
    reach: Reach
    bits: float


def _best(ways: Sequence[_Way]) -> Settling:
    most = max((way.bits for way in ways if way.reach != "asked"), default=0.0)
    telling = [way for way in ways if way.reach == "asked" or way.bits >= ENOUGH * most]
    best = min(telling, key=lambda way: (ORDER[way.reach], -way.bits))
    return Settling(best.check, best.reach)


def _reach(checklist: Checklist, candidate: Candidate, *, held: bool) -> Reach:
    if checklist.checks[candidate.tells].asked != "bench":
        return "asked"
    if candidate.way is None:
        return "opened"
    if held and (candidate.loading or candidate.calm_way is None):
        return "held-back"
    return "now"
