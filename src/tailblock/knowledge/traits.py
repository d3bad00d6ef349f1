"""What applies to an instrument, and what a chance becomes for its traits.

In: an entry, the traits that are known (id to value; missing or `unknown` is unknown) and the
checklist with the traits' shares. Out: probabilities that a condition holds, chances, weighted
limits.

An unknown trait with shares stands for all its values: a chance is the share-weighted mean over
them. This is done entry by entry; that two entries lean on the same unknown trait, and would be
high or low together, is left out. An unknown trait without shares cannot be judged: a condition
holds for it only if it lists `unknown`, which is also true of one with shares.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import prod
from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.words import shift

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import (
        Cause,
        Check,
        Condition,
        Fault,
        Limits,
        Remedy,
        Shows,
        Symptom,
    )


@dataclass(frozen=True, slots=True)
class WeightedLimits:
    """Limits of a measurement and the probability that they are the ones that hold."""

    weight: float
    limits: Limits


def values_of(trait: str, traits: Mapping[str, str], checklist: Checklist) -> dict[str, float]:
    """Return the values that a trait may have with their probabilities, which add up to 1.

    >>> from types import SimpleNamespace as Some
    >>> bracing = Some(shares={"x": 0.3, "ladder": 0.1})
    >>> values_of("bracing", {}, Some(traits={"bracing": bracing}))
    {'x': 0.75, 'ladder': 0.25}
    >>> values_of("bracing", {"bracing": "fan"}, Some(traits={"bracing": bracing}))
    {'fan': 1.0}
    """
    value = traits.get(trait, UNKNOWN)
    known = checklist.traits.get(trait)
    if value != UNKNOWN or known is None or not known.shares:
        return {value: 1.0}
    total = sum(known.shares.values())
    return {name: share / total for name, share in known.shares.items() if share > 0}


def share(condition: Condition, traits: Mapping[str, str], checklist: Checklist) -> float:
    """Return the probability that a condition holds, from 0 to 1.

    Within a trait the shares of the listed values add up; between traits the probabilities
    multiply, as if traits were independent. An empty condition always holds.
    """
    return prod(
        sum(
            weight
            for value, weight in values_of(trait, traits, checklist).items()
            if _fits(value, trait, listed, traits)
        )
        for trait, listed in condition.items()
    )


def applies(
    entry: Fault | Symptom | Check | Remedy, traits: Mapping[str, str], checklist: Checklist
) -> bool:
    """Return whether an entry applies for any value that a trait may still have."""
    return share(entry.applies_when, traits, checklist) > 0


def alone(node: Fault | Symptom, traits: Mapping[str, str], checklist: Checklist) -> float:
    """Return the chance that a fault or symptom is there with none of its causes.

    For given traits the first `alone` of `alone_when` that matches replaces the plain one, and all
    `shift`s that match add up, in words of the scale; where the entry does not apply it is 0. Over
    unknown traits this is averaged.
    """
    return sum(
        weight * alone_under(node, rules) for rules, weight in alone_rules(node, traits, checklist)
    )


def alone_rules(
    node: Fault | Symptom, traits: Mapping[str, str], checklist: Checklist
) -> tuple[tuple[tuple[int, ...], float], ...]:
    """Return which of its `alone_when` decide together, by place, and with which probability.

    Of those with `alone` only the first that matches decides. Where the entry does not apply
    nothing does: the probabilities add up to that with which it applies.
    """
    weights: dict[tuple[int, ...], float] = {}
    conditions = [node.applies_when, *(rule.when for rule in node.alone_when)]
    for world, weight in _worlds(conditions, traits, checklist):
        if _holds(node.applies_when, world, traits):
            held = [i for i, r in enumerate(node.alone_when) if _holds(r.when, world, traits)]
            rules = deciding(node, held)
            weights[rules] = weights.get(rules, 0.0) + weight
    return tuple(weights.items())


def deciding(node: Fault | Symptom, held: Iterable[int]) -> tuple[int, ...]:
    """Return which of the `alone_when` that hold decide: the first `alone`, and every `shift`."""
    held = tuple(held)
    replacing = [i for i in held if node.alone_when[i].alone is not None]
    return tuple(i for i in held if i in replacing[:1] or node.alone_when[i].shift is not None)


def alone_under(node: Fault | Symptom, rules: Iterable[int]) -> float:
    """Return the chance that a fault or symptom is there with none of its causes, for some rules.

    Parameters
    ----------
    rules
        Those of its `alone_when` that decide, by place.
    """
    found = [node.alone_when[i] for i in rules]
    replaced = [rule.alone for rule in found if rule.alone is not None]
    steps = sum(rule.shift for rule in found if rule.shift is not None)
    return shift(replaced[0] if replaced else node.alone, steps)


def strength(
    child: Fault | Symptom, cause: Cause, traits: Mapping[str, str], checklist: Checklist
) -> float:
    """Return the chance that a cause brings its child about, averaged over unknown traits.

    It is 0 where the link's `when` does not hold or the child does not apply.
    """
    return cause.strength * cause_share(child, cause, traits, checklist)


def cause_share(
    child: Fault | Symptom, cause: Cause, traits: Mapping[str, str], checklist: Checklist
) -> float:
    """Return the probability that a link to a child holds: its `when`, and that the child applies.

    What multiplies its strength.
    """
    worlds = _worlds([child.applies_when, cause.when], traits, checklist)
    return sum(
        weight
        for world, weight in worlds
        if _holds(child.applies_when, world, traits) and _holds(cause.when, world, traits)
    )


def link_share(link: Shows, traits: Mapping[str, str], checklist: Checklist) -> float:
    """Return the weight of a link of a check: its chances are multiplied by it."""
    return share(link.when, traits, checklist)


def limits_for(
    check: Check, traits: Mapping[str, str], checklist: Checklist
) -> tuple[WeightedLimits, ...]:
    """Return the limits of a measurement, each with the probability that it holds.

    The first of `limits_when` that matches replaces the plain ones. A check that is not measured
    has none. The weights add up to 1.
    """
    if check.measure is None:
        return ()
    weights: dict[int, float] = {}
    choices: list[Limits] = [*check.measure.limits_when, check.measure]
    conditions = [special.when for special in check.measure.limits_when]
    for world, weight in _worlds(conditions, traits, checklist):
        place = next(
            (i for i, when in enumerate(conditions) if _holds(when, world, traits)),
            len(conditions),
        )
        weights[place] = weights.get(place, 0.0) + weight
    return tuple(WeightedLimits(weight, choices[place]) for place, weight in weights.items())


def trait_label(check: Check, traits: Mapping[str, str], checklist: Checklist) -> str | None:
    """Return for which values of an unknown trait a check applies: `if bolt-on`.

    None if it applies whatever the value, or not at all.
    """
    parts = []
    for trait, listed in check.applies_when.items():
        holds = share({trait: listed}, traits, checklist)
        if holds == 0:
            return None
        if holds < 1:
            possible = values_of(trait, traits, checklist)
            parts.append(" or ".join(value for value in listed if value in possible))
    return f"if {' and '.join(parts)}" if parts else None


def _worlds(
    conditions: Iterable[Condition], traits: Mapping[str, str], checklist: Checklist
) -> Iterator[tuple[dict[str, str], float]]:
    """Yield every combination of values of the traits that conditions name, with its weight."""
    named = list(dict.fromkeys(trait for condition in conditions for trait in condition))
    options = [values_of(trait, traits, checklist).items() for trait in named]
    for combination in product(*options):
        world = dict(zip(named, (value for value, _ in combination), strict=True))
        yield world, prod(weight for _, weight in combination)


def _holds(condition: Condition, world: Mapping[str, str], traits: Mapping[str, str]) -> bool:
    return all(_fits(world[trait], trait, listed, traits) for trait, listed in condition.items())


def _fits(value: str, trait: str, listed: tuple[str, ...], traits: Mapping[str, str]) -> bool:
    """Return whether a value is listed; `unknown` is, as long as nobody has said the value."""
    return value in listed or (UNKNOWN in listed and traits.get(trait, UNKNOWN) == UNKNOWN)
