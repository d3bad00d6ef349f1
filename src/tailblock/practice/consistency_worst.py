"""Why the worst faults of the self-consistency run are not found, and what was written about them.

In: a checklist, the runs of one order, the stage of the visit. Out: the end of the page: a line for
each fault that seldom leads, the ten worst of those that could have been seen, and what somebody
wrote about these by hand, which a later page takes over.
"""

from __future__ import annotations

from statistics import mean
from typing import TYPE_CHECKING

from tailblock.knowledge.coverage import needs_work, through

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.practice.self_consistency import Run

_WORST = 0.5  # found in fewer of its runs than this, a fault is explained
_TEN = 10  # as many are looked into by hand
BY_HAND = "<!-- what follows is written by hand, and stays when the page is made again -->"


def by_hand(page: str) -> str:
    """Return what was written by hand into a page that was made before; empty if nothing was."""
    return page.partition(BY_HAND)[2].strip()


def worst(checklist: Checklist, runs: Sequence[Run], stage: str) -> Iterator[str]:
    """Yield a line for each fault that the advice finds in fewer than half of its runs."""
    yield "## The worst ones"
    yield ""
    yield f"Faults that lead in time in fewer than {_WORST:.0%} of their runs, and why."
    yield ""
    for fault in checklist.faults:
        own = [run for run in runs if run.fault == fault]
        if own and share(own) < _WORST:
            yield f"- {fault}: {_why(checklist, fault, own, stage)}."
    yield ""


def looked_into(
    checklist: Checklist, runs: Sequence[Run], stage: str, written: str
) -> Iterator[str]:
    """Yield the ten worst of those that a check can show, and what was written about them."""
    yield "## The ten worst, looked into"
    yield ""
    own = {fault: [run for run in runs if run.fault == fault] for fault in checklist.faults}
    least = sorted(
        (
            fault
            for fault, runs_of in own.items()
            if runs_of and share(runs_of) < _WORST and _at_hand(checklist, fault, stage)
        ),
        key=lambda fault: (share(own[fault]), most(own[fault])),
    )
    yield (
        "Of the faults that something on this visit shows, those that lead least often, and of "
        f"equals those that stayed least probable: {', '.join(least[:_TEN]) or 'none'}."
    )
    yield ""
    yield BY_HAND
    yield ""
    if written:
        yield written
        yield ""


def _at_hand(checklist: Checklist, fault: str, stage: str) -> list[Check]:
    """Return the checks of a visit that show a fault with nothing taken apart."""
    return [
        check
        for check in through(checklist)[fault].values()
        if check.derived is None
        and (not check.stages or stage in check.stages)
        and not needs_work(checklist, check)
    ]


def _why(checklist: Checklist, fault: str, runs: Sequence[Run], stage: str) -> str:
    """Return what keeps a fault from leading: what shows it, what of that was read, who led."""
    at_hand = _at_hand(checklist, fault, stage)
    if not at_hand:
        return "nothing that can be looked at on this visit shows it"
    if all(check.asked == "player" for check in at_hand):
        return "on this visit only the player's word points to it"
    names = {check.id for check in at_hand}
    read = mean(sum(point.check in names for point in run.points) for run in runs)
    why = (
        f"{read:.1f} of the {len(names)} checks that show it were read, and raised it to "
        f"{most(runs):.0%}"
    )
    before = sorted({run.before for run in runs if run.before and run.found is None})
    return f"{why}; before it led {', '.join(before)}" if before else why


def most(runs: Sequence[Run]) -> float:
    """Return the highest probability that the fault reached, on average."""
    return mean(max(point.probability for point in run.points) for run in runs)


def share(runs: Sequence[Run]) -> float:
    """Return in what share of the runs the fault leads in time."""
    return mean(run.found is not None for run in runs)
