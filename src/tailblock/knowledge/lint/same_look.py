"""Looks at the same thing share a symptom.

Two checks with the same tool at the same part that show the same fault directly are not independent
given the fault: they fail together, and would count twice. A symptom between them, or a family of
measurements, mends that.

Passes:

    faults: [{id: bridge-lifting}]
    symptoms: [{id: edge-gap, caused_by: [{fault: bridge-lifting, strength: usually}]}]
    checks:
      - {id: look-back, tools: [lamp], shows: [{symptom: edge-gap, at_least: {yes: often}}]}
      - {id: look-side, tools: [lamp], shows: [{symptom: edge-gap, at_least: {yes: often}}]}

Fails:

    faults: [{id: bridge-lifting}]
    checks:
      - {id: look-back, tools: [lamp], shows: [{fault: bridge-lifting, at_least: {yes: often}}]}
      - {id: look-side, tools: [lamp], shows: [{fault: bridge-lifting, at_least: {yes: often}}]}
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a warning for each pair of looks that would count twice."""
    for one, other in combinations(checklist.checks.values(), 2):
        tools = set(one.tools) & set(other.tools)
        if one.part != other.part or not tools or _in_one_family(checklist, one, other):
            continue
        if _targets(one, checklist.symptoms) & _targets(other, checklist.symptoms):
            continue
        for fault in sorted(_targets(one, checklist.faults) & _targets(other, checklist.faults)):
            place = [link.target for link in other.shows].index(fault)
            spot = Spot("check", other.id, ("shows", place))
            message = f"it shows {fault} with the same tool ({min(tools)}) and part as `{one.id}`"
            mend = "let both show a symptom of that fault, or put them in one family"
            yield found(checklist, "same-look", spot, message, mend, severity="warning")


def _targets(check: Check, ids: Container[str]) -> set[str]:
    return {link.target for link in check.shows if link.target in ids}


def _in_one_family(checklist: Checklist, one: Check, other: Check) -> bool:
    return any({one.id, other.id} <= set(f.checks) for f in checklist.families.values())
