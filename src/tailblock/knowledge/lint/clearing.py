"""Looking can clear what is dangerous under tension.

For the plain instrument: the starting odds of each fault with `under_tension: danger`, times what
is left after every harmless look has found nothing, must come below `limits.danger`. A symptom of
strength s leaves odds x (1 - s) however often one looks; a check that shows the fault directly
leaves x (1 - its chance of at least the first level), of a family the best member alone. This is a
bound: real looks clear less. Harmless is what can be made below pitch, without risk or load, and
with nothing taken apart. Starting chances of causes are taken as independent.

Passes:

    faults: [{id: bridge-lifting, under_tension: danger, alone: sometimes}]
    symptoms: [{id: edge-gap, caused_by: [{fault: bridge-lifting, strength: 0.98}]}]
    checks: [{id: look, shows: [{symptom: edge-gap, at_least: {yes: usually}}]}]

Fails:

    faults: [{id: bridge-lifting, under_tension: danger, alone: sometimes}]
    symptoms: [{id: edge-gap, caused_by: [{fault: bridge-lifting, strength: often}]}]
    checks: [{id: look, shows: [{symptom: edge-gap, at_least: {yes: usually}}]}]
"""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from math import prod
from typing import TYPE_CHECKING

from tailblock.knowledge.coverage import direct, needs_work
from tailblock.knowledge.levels import shown
from tailblock.knowledge.lint.profiles import plain
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.traits import alone, share, strength
from tailblock.knowledge.words import stands_above

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Fault, Symptom


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield a warning for each danger fault that ordinary looks could never clear."""
    traits = plain(checklist)
    start = _starting(checklist, traits)
    limit = checklist.limits.danger
    for fault in checklist.faults.values():
        above = stands_above(start.get(fault.id, 0.0), limit)
        if fault.under_tension != "danger" or not above:
            continue
        before = start[fault.id]
        odds = before / (1.0 - before) * _left(checklist, fault, traits)
        after = odds / (1.0 + odds)
        if stands_above(after, limit):
            message = (
                f"looking takes it from {before:.2f} to {after:.2f} at best, not below {limit:g}"
            )
            mend = "show it by a stronger symptom, or by another harmless check"
            spot = Spot("fault", fault.id, ("under_tension",))
            yield found(checklist, "clearing", spot, message, mend, severity="warning")


def _starting(checklist: Checklist, traits: Mapping[str, str]) -> dict[str, float]:
    """Return the starting chance of each fault; nothing if causes run in a ring."""
    causes = {f.id: [cause.fault for cause in f.caused_by] for f in checklist.faults.values()}
    try:
        order = list(TopologicalSorter(causes).static_order())
    except CycleError:
        return {}  # the rule `cycles` says so
    start: dict[str, float] = {}
    for fault in (checklist.faults[entry] for entry in order if entry in checklist.faults):
        spared = prod(
            1.0 - start.get(cause.fault, 0.0) * strength(fault, cause, traits, checklist)
            for cause in fault.caused_by
        )
        start[fault.id] = 1.0 - (1.0 - alone(fault, traits, checklist)) * spared
    return start


def _left(checklist: Checklist, fault: Fault, traits: Mapping[str, str]) -> float:
    """Return what factor of the odds is left when all harmless looks find nothing."""
    checks = direct(checklist)
    harmless = {c.id for c in checklist.checks.values() if _harmless(checklist, c)}
    left = 1.0
    for symptom in checklist.symptoms.values():
        if harmless & checks.get(symptom.id, {}).keys():
            left *= 1.0 - _strength(checklist, symptom, fault, traits)
    best: dict[str, float] = {}
    for check in checks.get(fault.id, {}).values():
        if check.id in harmless:
            family = checklist.family_of(check.id)
            group = family.id if family else f"check {check.id}"
            factor = _missed(checklist, check, fault, traits)
            best[group] = min(best.get(group, 1.0), factor)
    return left * prod(best.values())


def _strength(
    checklist: Checklist, symptom: Symptom, fault: Fault, traits: Mapping[str, str]
) -> float:
    spared = prod(
        1.0 - strength(symptom, cause, traits, checklist)
        for cause in symptom.caused_by
        if cause.fault == fault.id
    )
    return 1.0 - spared


def _missed(checklist: Checklist, check: Check, fault: Fault, traits: Mapping[str, str]) -> float:
    """Return the chance that the fault, there by itself, leaves a check without a finding."""
    asked = share(check.applies_when, traits, checklist)
    missed = 1.0
    for link in check.shows:
        if link.target == fault.id:
            weight = asked * share(link.when, traits, checklist)
            chances = shown(check, link)
            for first in (*chances.low[:1], *chances.high[:1]):
                missed *= 1.0 - weight * first
    return missed


def _harmless(checklist: Checklist, check: Check) -> bool:
    if check.risk or check.loads or needs_work(checklist, check):
        return False
    known = checklist.setups
    states = known.states.get(known.tension, ())
    below = states[: states.index(known.pitch)] if known.pitch in states else states
    demands = [check.setup, *(given.setup for given in check.from_.values())]
    return all(
        set(setup[known.tension]) & set(below) for setup in demands if known.tension in setup
    )
