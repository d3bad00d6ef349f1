"""Which checks could be read on this visit, what they cost, and whether the way to them is open.

In: a `Situation`. Out: one `Candidate` for each unread check that applies, in file order.
No probability is known here: what is held back, and what is worth its minutes, comes after.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.gates import shut, stale
from tailblock.advice.setups import Route, satisfies
from tailblock.knowledge import traits

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice.situation import Situation
    from tailblock.knowledge.entries import Check, Condition


@dataclass(frozen=True, slots=True)
class Candidate:
    """A check that could be read.

    `tells` is the check whose answer counts; `check` is the one to do first: the same, or the
    nearest unread input of a derived one. `minutes` covers all unread inputs. `way` is the shortest
    way there, None if it leads through repair work; `calm_way` the shortest without more tension
    than now. `harmless`: no risk, and no load added.
    """

    tells: str
    check: str
    minutes: float
    way: Route | None
    calm_way: Route | None
    harmless: bool
    loads: bool
    if_trait: str | None


@dataclass(frozen=True, slots=True)
class _Step:
    """A check to answer, in a setup that a condition allows."""

    check: Check
    setup: Condition


def candidates(situation: Situation) -> tuple[Candidate, ...]:
    """Return the unread checks of this stage that apply to this instrument.

    Left out are checks that cannot be said in the present setup, members of a family that has an
    answer, checks that follow a finding which is not there, and those that a gate has shut.
    """
    found = (_candidate(situation, check) for check in situation.checklist.checks.values())
    return tuple(candidate for candidate in found if candidate is not None)


def _candidate(situation: Situation, check: Check) -> Candidate | None:
    read = situation.is_read(check.id) and not stale(situation, check)
    if read or not _makes_sense(situation, check) or _family_answered(situation, check.id):
        return None
    steps = tuple(_unread(situation, check, {}))
    if not steps or not all(_askable(situation, step) for step in steps):
        return None
    walk = _walk(situation, steps, None)
    calm = _walk(situation, steps, situation.map.tension(situation.present))
    if shut(situation, check.id, walk.way.end if walk.way else None):
        return None
    return Candidate(
        tells=check.id,
        check=(calm if calm.way else walk).first,
        minutes=sum(step.check.minutes for step in steps),
        way=walk.way,
        calm_way=calm.way,
        harmless=all(step.check.risk is None and not step.check.loads for step in steps),
        loads=any(step.check.loads or step.check.risk == "load" for step in steps),
        if_trait=traits.trait_label(check, situation.traits, situation.checklist),
    )


def _makes_sense(situation: Situation, check: Check) -> bool:
    """Return whether a check belongs to this instrument and stage, and to what was found."""
    follows = check.follows
    return (
        traits.applies(check, situation.traits, situation.checklist)
        and (not check.stages or situation.stage in check.stages)
        and (follows is None or situation.reached(follows.check, follows.from_))
    )


def _askable(situation: Situation, step: _Step) -> bool:
    """Return whether a step can be asked: what could not be said waits for another setup."""
    in_vain = step.check.id in situation.unknown and satisfies(situation.present, step.setup)
    return not in_vain and _makes_sense(situation, step.check)


def _family_answered(situation: Situation, check: str) -> bool:
    family = situation.checklist.family_of(check)
    return family is not None and any(situation.is_read(member) for member in family.checks)


def _unread(situation: Situation, check: Check, setup: Condition) -> Iterator[_Step]:
    """Yield what has to be answered for a check: itself, or the unread inputs of a derived one.

    Nothing is yielded for a derived check that needs a number of the instrument nobody has given.
    """
    if check.derived is None:
        yield _Step(check, {**check.setup, **setup})
        return
    if any(entry.given for entry in check.from_.values()) and not situation.scale_length:
        return
    for entry in check.from_.values():
        if entry.check is not None and not situation.has_input(entry.check, entry.setup):
            yield from _unread(situation, situation.checklist.checks[entry.check], entry.setup)


@dataclass(frozen=True, slots=True)
class _Walk:
    """The way through all steps, and the check that comes first on it."""

    first: str
    way: Route | None


def _walk(situation: Situation, steps: Sequence[_Step], ceiling: int | None) -> _Walk:
    """Go to each step in turn, always to the nearest; equals keep their order."""
    here, minutes = situation.present, 0.0
    left = list(steps)
    first = steps[0].check.id
    while left:
        routes = [situation.map.route(here, step.setup, ceiling) for step in left]
        reached = [(r.minutes, place, r) for place, r in enumerate(routes) if r is not None]
        if len(reached) < len(left):
            return _Walk(first, None)
        _, place, route = min(reached, key=lambda entry: entry[:2])
        if len(left) == len(steps):
            first = left[place].check.id
        here, minutes = route.end, minutes + route.minutes
        del left[place]
    return _Walk(first, Route(minutes, here))
