"""No fault is its own cause, and no remedy needs itself first, by whatever way.

Passes:

    faults:
      - {id: top-hump}
      - {id: bridge-lifting, caused_by: [{fault: top-hump, strength: sometimes}]}

Fails:

    faults:
      - {id: top-hump, caused_by: [{fault: bridge-lifting, strength: often}]}
      - {id: bridge-lifting, caused_by: [{fault: top-hump, strength: sometimes}]}
"""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each ring, at the link that closes it, then for those left without it."""
    causes = {
        fault.id: [cause.fault for cause in fault.caused_by] for fault in checklist.faults.values()
    }
    while ring := _ring(causes):
        cause, effect = ring[0], ring[1]
        place = causes[effect].index(cause)
        listed = [link.fault for link in checklist.faults[effect].caused_by].index(cause)
        causes[effect].pop(place)
        message = f"a ring of causes: {' brings about '.join(ring)}"
        spot = Spot("fault", effect, ("caused_by", listed, "fault"))
        yield found(checklist, "cycles", spot, message, "take one of these links out")
    needs = {remedy.id: list(remedy.needs.remedies) for remedy in checklist.remedies.values()}
    while ring := _ring(needs):
        first, later = ring[0], ring[1]
        listed = checklist.remedies[later].needs.remedies.index(first)
        needs[later].remove(first)
        message = f"a ring of work: {' comes before '.join(ring)}"
        spot = Spot("remedy", later, ("needs", "remedies", listed))
        yield found(checklist, "cycles", spot, message, "take one of these links out")


def _ring(before: dict[str, list[str]]) -> list[str]:
    """Return a ring, what comes first before the other, its first entry once more at the end."""
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []
