"""Conditions name traits and values that there are, and can be judged.

A condition on a trait that may stay unknown needs the trait's `shares`, or must list `unknown`
itself: otherwise nothing can be said when nobody knows.

Passes:

    traits:
      - {id: bracing, values: [x, ladder, unknown], shares: {x: 0.9, ladder: 0.1}}
    faults:
      - {id: top-hump, applies_when: {bracing: ladder}}

Fails:

    traits:
      - {id: bracing, values: [x, ladder, unknown]}
    faults:
      - {id: top-hump, applies_when: {bracing: ladder}}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.lint.walk import Spot, conditions, found
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition

_RULE = "conditions"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each trait or value that cannot be judged."""
    for spot, condition in conditions(checklist):
        yield from _judge(checklist, spot, condition)


def _judge(checklist: Checklist, spot: Spot, condition: Condition) -> Iterator[Problem]:
    for name, values in condition.items():
        trait = checklist.traits.get(name)
        if trait is None:
            message = f"there is no trait `{name}`"
            yield found(
                checklist, _RULE, spot.below(name), message, nearest(name, checklist.traits)
            )
            continue
        for i, value in enumerate(values):
            if value not in trait.values:
                message = f"`{value}` is no value of the trait `{name}`"
                mend = nearest(value, trait.values)
                yield found(checklist, _RULE, spot.below(name, i), message, mend)
        if trait.may_be_unknown and not trait.shares and UNKNOWN not in values:
            message = (
                f"the trait `{name}` may be unknown and has no `shares`: this cannot be judged"
            )
            mend = f"give `{name}` its shares, or list `unknown` here"
            yield found(checklist, _RULE, spot.below(name), message, mend)
