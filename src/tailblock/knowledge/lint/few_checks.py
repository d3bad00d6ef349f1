"""Every fault is shown by two checks or more, and by one that needs nothing taken apart.

`hard_to_reach` gives the reason why that cannot be.

Passes:

    faults: [{id: bridge-lifting}]
    checks:
      - {id: look, shows: [{fault: bridge-lifting, at_least: {yes: often}}]}
      - {id: squeeze, shows: [{fault: bridge-lifting, at_least: {yes: often}}]}

Fails:

    faults: [{id: bridge-lifting}]
    checks:
      - {id: look, shows: [{fault: bridge-lifting, at_least: {yes: often}}]}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.coverage import needs_work, through
from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a warning for each fault that is looked for too little."""
    reached = through(checklist)
    mend = "add a check, or say why that cannot be in `hard_to_reach`"
    for fault in checklist.faults.values():
        checks = reached[fault.id].values()
        if fault.hard_to_reach or not checks:  # none at all: the rule `unreachable`
            continue
        spot = Spot("fault", fault.id)
        if all(needs_work(checklist, check) for check in checks):
            message = "every check that shows it needs something taken apart"
            yield found(checklist, "few-checks", spot, message, mend, severity="warning")
        elif len(checks) < 2:
            message = "only one check shows it"
            yield found(checklist, "few-checks", spot, message, mend, severity="warning")
