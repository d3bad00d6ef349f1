"""Every fault and every symptom can be seen by some check.

A fault is reached directly or by a symptom that it causes; benign entries, too. What no check
reaches keeps its starting chance for ever.

Passes:

    faults: [{id: bridge-lifting}]
    symptoms: [{id: edge-gap, caused_by: [{fault: bridge-lifting, strength: usually}]}]
    checks: [{id: look, shows: [{symptom: edge-gap, at_least: {yes: often}}]}]

Fails:

    faults: [{id: bridge-lifting}]
    symptoms: [{id: edge-gap, caused_by: [{fault: bridge-lifting, strength: usually}]}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.coverage import direct, through
from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each fault or symptom that no check shows."""
    reached, shown = through(checklist), direct(checklist)
    for fault in checklist.faults:
        if not reached[fault]:
            message = "no check shows this fault, directly or by a symptom"
            mend = "name it in the `shows` of a check"
            yield found(checklist, "unreachable", Spot("fault", fault), message, mend)
    for symptom in checklist.symptoms:
        if not shown.get(symptom):
            message = "no check shows this symptom"
            mend = "name it in the `shows` of a check"
            yield found(checklist, "unreachable", Spot("symptom", symptom), message, mend)
