"""The traits of typical instruments, for rules that judge a checklist as an instrument meets it.

In: a checklist. Out: traits as mappings from id to value.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition


def plain(checklist: Checklist) -> dict[str, str]:
    """Return the plain instrument: usual values where there are some, and else unknown.

    A trait that cannot be unknown and has no usual value takes its first.
    """
    return {
        trait.id: trait.default or (UNKNOWN if trait.may_be_unknown else trait.values[0])
        for trait in checklist.traits.values()
    }


def named(conditions: Iterable[Condition]) -> list[str]:
    """Return the traits that conditions name."""
    return sorted({trait for condition in conditions for trait in condition})


def worlds(checklist: Checklist, traits: Iterable[str]) -> Iterator[dict[str, str]]:
    """Yield every combination of values of those traits that are always known."""
    known = [
        checklist.traits[trait]
        for trait in traits
        if trait in checklist.traits and not checklist.traits[trait].may_be_unknown
    ]
    for values in product(*(trait.values for trait in known)):
        yield {trait.id: value for trait, value in zip(known, values, strict=True)}


def spelled(traits: Mapping[str, str]) -> str:
    """Return traits for a message: ` (bridge: pin)`, or nothing."""
    said = ", ".join(f"{trait}: {value}" for trait, value in traits.items())
    return f" ({said})" if said else ""
