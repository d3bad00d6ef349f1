"""For every fault something can be done, or the checklist says why not.

Exempt are events, which are past, and what does no harm. `no_remedy` gives the reason.

Passes:

    faults:
      - {id: bridge-lifting}
      - {id: plate-stained, no_remedy: It weakens nothing.}
    remedies: [{id: bridge-reglue, fixes: [{fault: bridge-lifting, how_well: usually}]}]

Fails:

    faults:
      - {id: bridge-lifting}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each fault that nothing is done about."""
    fixed = {item.fault for remedy in checklist.remedies.values() for item in remedy.fixes}
    for fault in checklist.faults.values():
        exempt = fault.kind == "event" or fault.harm == "none" or fault.no_remedy
        if fault.id not in fixed and not exempt:
            mend = "add a remedy that fixes it, or say why there is none in `no_remedy`"
            yield found(checklist, "no-remedy", Spot("fault", fault.id), "no remedy fixes it", mend)
