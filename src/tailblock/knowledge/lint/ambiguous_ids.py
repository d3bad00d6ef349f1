"""A fault and a symptom do not share an id.

Both are hidden nodes of one network and are named alike in lists of what is going on. (Other kinds
may share ids: a caution and a source are never looked up in the same place.)

Passes:

    faults: [{id: bridge-lifting}]
    symptoms: [{id: bridge-edge-gap, caused_by: [{fault: bridge-lifting, strength: usually}]}]

Fails:

    faults: [{id: bridge-lifting}]
    symptoms: [{id: bridge-lifting, caused_by: [{fault: bridge-lifting, strength: usually}]}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each symptom that has the id of a fault."""
    for symptom in checklist.symptoms:
        if symptom in checklist.faults:
            file, line, column = checklist.places["fault", symptom]
            message = f"a fault has the same id, at {file}:{line}:{column}"
            spot = Spot("symptom", symptom, ("id",))
            yield found(checklist, "ambiguous-ids", spot, message, "rename one of the two")
