"""A check stands in one family, and one geometry speaks once.

Two derived checks that share an input and show the same fault or symptom say the same thing twice,
unless they are in one family, of which one member speaks. So does a derived check beside a better
member of its input's family, which speaks where the input has fallen silent.

Passes:

    faults: [{id: top-hump}]
    checks:
      - {id: tilt, measure: {quantity: angle, unit: deg}}
      - id: tilt-change
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}, slack: {check: tilt}}
        shows: [{fault: top-hump, at_least: {more: often}}]
      - id: tilt-settled
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}, slack: {check: tilt}}
        shows: [{fault: top-hump, at_least: {more: often}}]
    families: [{id: yield, checks: [tilt-change, tilt-settled]}]

Fails:

    faults: [{id: top-hump}]
    checks:
      - {id: tilt, measure: {quantity: angle, unit: deg}}
      - id: tilt-change
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}, slack: {check: tilt}}
        shows: [{fault: top-hump, at_least: {more: often}}]
      - id: tilt-settled
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}, slack: {check: tilt}}
        shows: [{fault: top-hump, at_least: {more: often}}]
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Condition

_RULE = "families"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each check that would speak twice."""
    first: dict[str, str] = {}
    for family in checklist.families.values():
        for i, check in enumerate(family.checks):
            if first.setdefault(check, family.id) != family.id:
                message = f"`{check}` is in the family `{first[check]}` already"
                spot = Spot("family", family.id, ("checks", i))
                yield found(checklist, _RULE, spot, message, "leave it in one of the two")
    derived = [check for check in checklist.checks.values() if check.derived]
    for one, other in combinations(derived, 2):
        if first.get(one.id) is not None and first.get(one.id) == first.get(other.id):
            continue
        same = {link.target for link in one.shows} & {link.target for link in other.shows}
        if same and _share_input(one, other):
            message = f"it shares an input with `{one.id}`, and both show {', '.join(sorted(same))}"
            spot = Spot("check", other.id, ("from",))
            yield found(checklist, _RULE, spot, message, "put both in one family")
    for made in derived:
        yield from _beside_better(checklist, made)


def _beside_better(checklist: Checklist, check: Check) -> Iterator[Problem]:
    """Yield an error for each better member of an input's family that shows the same."""
    inputs = {given.check for given in check.from_.values()}
    shown = {link.target for link in check.shows}
    for family in checklist.families.values():
        at = next((i for i, name in enumerate(family.checks) if name in inputs), 0)
        if check.id in family.checks:
            continue
        for better in family.checks[:at]:
            other = checklist.checks.get(better)
            same = shown & {link.target for link in other.shows} if other else set()
            if same:
                message = (
                    f"`{better}` speaks for its input `{family.checks[at]}`, and both show "
                    f"{', '.join(sorted(same))}"
                )
                mend = f"put it in the family `{family.id}`"
                yield found(checklist, _RULE, Spot("check", check.id, ("from",)), message, mend)


def _share_input(one: Check, other: Check) -> bool:
    """Return whether one reading can serve both."""
    return any(
        mine.check == theirs.check and _overlap(mine.setup, theirs.setup)
        for mine in one.from_.values()
        for theirs in other.from_.values()
        if mine.check
    )


def _overlap(one: Condition, other: Condition) -> bool:
    return all(set(one[name]) & set(other[name]) for name in one.keys() & other.keys())
