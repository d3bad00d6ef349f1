"""A length of the geometry is read by a check of its own that measures a length.

Passes:

    checks:
      - {id: action-6, measure: {quantity: length, unit: mm}}
      - {id: action-1, measure: {quantity: length, unit: mm}}
    geometry: [{id: action-bass, check: action-6}, {id: action-treble, check: action-1}]

Fails:

    checks: [{id: action-6, measure: {quantity: length, unit: mm}}]
    geometry: [{id: action-bass, check: action-6}, {id: action-treble, check: action-6}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check

_RULE = "geometry"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each check that cannot serve, or serves two lengths."""
    first: dict[str, str] = {}
    for length in checklist.geometry.values():
        spot = Spot("length", length.id, ("check",))
        if first.setdefault(length.check, length.id) != length.id:
            message = f"`{length.check}` reads `{first[length.check]}` already"
            mend = "leave it at one of the two: readings are compared with each other"
            yield found(checklist, _RULE, spot, message, mend)
        check = checklist.checks.get(length.check)
        if check is not None and (what := _not_a_length(check)):
            message = f"`{check.id}` {what}, and `{length.id}` is a length that is read"
            yield found(checklist, _RULE, spot, message, "name a check that measures a length")


def _not_a_length(check: Check) -> str:
    """Return what is in the way of a check's being read as a length."""
    if check.derived:
        return "is worked out"
    if check.measure is None:
        return "is not measured"
    return "" if check.measure.quantity == "length" else f"measures {check.measure.quantity}"
