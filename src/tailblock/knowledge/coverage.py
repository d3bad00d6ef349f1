"""Which checks bring a fault or symptom to light, and what it takes to carry them out.

In: a checklist. Out: for faults and symptoms the checks that show them, directly or by a symptom.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check


def direct(checklist: Checklist) -> dict[str, dict[str, Check]]:
    """Return for each fault or symptom the checks that link to it."""
    shown: dict[str, dict[str, Check]] = defaultdict(dict)
    for check in checklist.checks.values():
        for link in check.shows:
            shown[link.target][check.id] = check
    return shown


def through(checklist: Checklist) -> dict[str, dict[str, Check]]:
    """Return for each fault the checks that link to it or to a symptom that it causes."""
    shown = direct(checklist)
    reached = {fault: dict(shown.get(fault, {})) for fault in checklist.faults}
    for symptom in checklist.symptoms.values():
        for cause in symptom.caused_by:
            reached.setdefault(cause.fault, {}).update(shown.get(symptom.id, {}))
    return reached


def needs_work(checklist: Checklist, check: Check) -> bool:
    """Return whether a check can only be made after repair work, such as with the bridge off."""
    opened = _opened(checklist)
    return any(
        all((dimension, state) in opened for state in states)
        for dimension, states in check.setup.items()
    )


def _opened(checklist: Checklist) -> set[tuple[str, str]]:
    """Return the states that are reached by work alone."""
    by_work: set[tuple[str, str]] = set()
    otherwise: set[tuple[str, str]] = set()
    for move in checklist.setups.moves:
        (by_work if move.work else otherwise).update(move.to.items())
    return by_work - otherwise
