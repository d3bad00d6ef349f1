"""Cautions, sources, parts and traits serve something.

Passes:

    sources: [{id: bench-log}]
    faults: [{id: bridge-lifting, sources: [bench-log]}]

Fails:

    sources: [{id: bench-log}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.references import ids_by_kind
from tailblock.knowledge.lint.walk import Spot, conditions, found, links

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a warning for each of them that nothing names."""
    named = {(kind, link.named) for link in links(checklist) for kind in link.wanted}
    named |= {("trait", trait) for _, condition in conditions(checklist) for trait in condition}
    known = ids_by_kind(checklist)
    for kind in ("part", "trait", "caution", "source"):
        for entry in known[kind]:
            if (kind, entry) not in named:
                message = f"nothing names this {kind}"
                yield found(checklist, "unused", Spot(kind, entry), message, severity="warning")
