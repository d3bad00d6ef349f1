"""The values and shares of a trait fit together.

`shares` are for a trait that may be unknown; they are of its other values and add up to 1. `texts`
are of its values.

Passes:

    traits:
      - {id: bracing, values: [x, ladder, unknown], shares: {x: 0.9, ladder: 0.1}, default: x}

Fails:

    traits:
      - {id: bracing, values: [x, ladder, unknown], shares: {x: 0.9, ladder: 0.3}}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Trait

_RULE = "traits"
_ROUNDING = 0.005


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each trait that contradicts itself."""
    for trait in checklist.traits.values():
        yield from _values(checklist, trait)
        if trait.shares:
            yield from _shares(checklist, trait)


def _values(checklist: Checklist, trait: Trait) -> Iterator[Problem]:
    spot = Spot("trait", trait.id)
    for i, value in enumerate(trait.values):
        if value in trait.values[:i]:
            yield found(checklist, _RULE, spot.below("values", i), f"`{value}` is listed twice")
    for value in trait.texts:
        if value not in trait.values:
            message = f"`{value}` has a text and is not one of its values"
            mend = nearest(value, trait.values)
            yield found(checklist, _RULE, spot.below("texts", value), message, mend)
    if trait.default is not None and trait.default not in trait.values:
        message = f"`{trait.default}` is not one of its values"
        mend = nearest(trait.default, trait.values)
        yield found(checklist, _RULE, spot.below("default"), message, mend)


def _shares(checklist: Checklist, trait: Trait) -> Iterator[Problem]:
    spot = Spot("trait", trait.id, ("shares",))
    for value, share in trait.shares.items():
        if value not in trait.values or value == UNKNOWN:
            message = f"`{value}` has a share and is not one of its values"
            mend = nearest(value, [known for known in trait.values if known != UNKNOWN])
            yield found(checklist, _RULE, spot.below(value), message, mend)
        if share < 0:
            yield found(checklist, _RULE, spot.below(value), "a share is not negative")
    total = sum(trait.shares.values())
    if abs(total - 1) > _ROUNDING:
        yield found(checklist, _RULE, spot, f"the shares add up to {total:g}, not to 1")
    if not trait.may_be_unknown:
        message = "it has shares and cannot be unknown"
        yield found(checklist, _RULE, spot, message, "add `unknown` to its values")
