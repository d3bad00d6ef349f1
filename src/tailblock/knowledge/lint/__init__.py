"""What ties the entries of a checklist together, judged rule by rule.

In: a `Checklist`. Out: `Problem`s by place. Each module is one rule; its docstring is the rule's
manual page, with an example that passes and one that fails, in which fields that do not matter are
left out. The table below is the list of rules.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.knowledge.lint import (
    ambiguous_ids,
    cautions,
    clearing,
    conditions,
    cycles,
    derived,
    families,
    few_checks,
    geometry,
    hidden_width,
    idle_checks,
    levels,
    limits,
    no_remedy,
    references,
    same_look,
    setups,
    sources,
    stages,
    traits,
    units,
    unreachable,
    unused,
    width,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist

    Rule = Callable[[Checklist], Iterator[Problem]]

# Rules without which nothing further can be relied on: a checklist that breaks one is not used.
SOUND: Mapping[str, Rule] = MappingProxyType(
    {
        "references": references.find,
        "ambiguous-ids": ambiguous_ids.find,
        "cycles": cycles.find,
        "traits": traits.find,
        "conditions": conditions.find,
        "setups": setups.find,
        "units": units.find,
        "levels": levels.find,
        "limits": limits.find,
        "derived": derived.find,
        "families": families.find,
        "geometry": geometry.find,
    }
)
RULES: Mapping[str, Rule] = MappingProxyType(
    {
        **SOUND,
        "unreachable": unreachable.find,
        "no-remedy": no_remedy.find,
        "idle-checks": idle_checks.find,
        "cautions": cautions.find,
        "width": width.find,
        "hidden-width": hidden_width.find,
        "same-look": same_look.find,
        "few-checks": few_checks.find,
        "clearing": clearing.find,
        "stages": stages.find,
        "sources": sources.find,
        "unused": unused.find,
    }
)


def lint(checklist: Checklist, rules: Mapping[str, Rule] = RULES) -> tuple[Problem, ...]:
    """Return what is wrong with a checklist, by place.

    Parameters
    ----------
    checklist
        As loaded.
    rules
        All of them, or `SOUND`: those that every use of the checklist rests on.
    """
    return tuple(sorted({problem for find in rules.values() for problem in find(checklist)}))
