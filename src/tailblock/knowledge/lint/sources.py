"""Every entry rests on a source, be it only common practice or memory.

Passes:

    faults: [{id: bridge-lifting, sources: [common-practice]}]

Fails:

    faults: [{id: bridge-lifting, sources: []}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import found, sourced

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each entry without a source."""
    for spot, sources in sourced(checklist):
        if not sources:
            mend = "add `sources: [common-practice]`, or whatever it is from"
            yield found(checklist, "sources", spot, "it names no source", mend)
