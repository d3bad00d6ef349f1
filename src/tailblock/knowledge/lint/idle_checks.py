"""Every check can change a belief.

A check does so by what it shows, as the input of a derived check, or as a gate of others. A derived
check without `shows` is a cross-check: its numbers are printed, so that is only a warning.

Passes:

    faults: [{id: bridge-lifting}]
    checks: [{id: look, shows: [{fault: bridge-lifting, at_least: {yes: often}}]}]

Fails:

    checks: [{id: look}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a problem for each check that nothing follows from."""
    inputs = {given.check for check in checklist.checks.values() for given in check.from_.values()}
    for check in checklist.checks.values():
        if check.shows or check.gate or check.id in inputs:
            continue
        spot = Spot("check", check.id)
        if check.derived:
            message = "it shows nothing: it is printed as a cross-check only"
            yield found(checklist, "idle-checks", spot, message, severity="warning")
        else:
            message = "whatever the answer, no belief changes"
            mend = "say what it `shows`, or take it out"
            yield found(checklist, "idle-checks", spot, message, mend)
