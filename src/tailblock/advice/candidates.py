"""Which checks could be read on this visit, what they cost, and whether the way to them is open.

In: a `Situation`. Out: one `Candidate` for each unread check that applies, in file order.
No probability is known here: what is held back, and what is worth its minutes, comes after.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.gates import shut, stale
from tailblock.advice.setups import satisfies
from tailblock.knowledge import traits

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.advice.setups import SetupMap
    from tailblock.advice.situation import Situation
    from tailblock.knowledge.entries import Check, Condition
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class Way:
    """A shortest way: the check that comes first on it, its minutes, the setup at its end."""

    check: str
    minutes: float
    end: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A check that could be read.

    `tells` is the check whose answer counts, `check` an unread one that it takes: the same, or an
    input of a derived one. `minutes` covers all unread inputs. `way` is the shortest way to them,
    None if it leads through repair work; `calm_way` the shortest without more tension than now.
    `harmless`: no risk, and no load added. `loading`: the checks on the way that add load. `needs`:
    what is to be answered, each in the setups that allow it.
    """

    tells: str
    check: str
    minutes: float
    way: Way | None
    calm_way: Way | None
    harmless: bool
    loading: tuple[str, ...]
    if_trait: str | None
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class Need:
    """A check to answer, in a setup that a condition allows."""

    check: Check
    setup: Condition


def candidates(situation: Situation) -> tuple[Candidate, ...]:
    """Return the unread checks of this stage that apply to this instrument.

    Left out are checks that cannot be said in the present setup, members of a family that has an
    answer, checks that follow a finding which is not there, and those that a gate has shut.
    """
    found = (candidate_of(situation, check) for check in situation.checklist.checks.values())
    return tuple(candidate for candidate in found if candidate is not None)


def findings_of(compiled: Compiled, found: Sequence[Candidate]) -> tuple[int, ...]:
    """Return the findings of the last visit that the candidates would read."""
    last = len(compiled.current) - 1
    findings = (compiled.finding_of(candidate.tells, last) for candidate in found)
    return tuple(finding for finding in findings if finding is not None)


def candidate_of(situation: Situation, check: Check) -> Candidate | None:
    """Return a check of the checklist as one of `candidates`, None if it is none."""
    read = situation.is_read(check.id) and not stale(situation, check)
    if read or not _makes_sense(situation, check) or _family_answered(situation, check.id):
        return None
    steps: list[Need] = []
    for step in _unread(situation, check, {}):
        if step not in steps:  # one reading may serve two derived checks
            steps.append(step)
    if not steps or not all(_askable(situation, step) for step in steps):
        return None
    way = walk(situation.map, situation.present, steps, None)
    if shut(situation, check, way.end if way else None):
        return None
    loading = (step.check for step in steps if step.check.loads or step.check.risk == "load")
    return Candidate(
        tells=check.id,
        check=steps[0].check.id,
        minutes=sum(step.check.minutes for step in steps),
        way=way,
        calm_way=walk(
            situation.map,
            situation.present,
            steps,
            situation.map.tension(situation.present),
        ),
        harmless=all(step.check.risk is None and not step.check.loads for step in steps),
        loading=tuple(check.id for check in loading),
        if_trait=traits.trait_label(check, situation.traits, situation.checklist),
        needs=tuple(steps),
    )


def _makes_sense(situation: Situation, check: Check) -> bool:
    """Return whether a check belongs to this instrument and stage, and to what was found."""
    follows = check.follows
    return (
        traits.applies(check, situation.traits, situation.checklist)
        and (not check.stages or situation.stage in check.stages)
        and (follows is None or situation.reached(follows.check, follows.from_))
    )


def _askable(situation: Situation, step: Need) -> bool:
    """Return whether a step can be asked: what could not be said waits for another setup."""
    in_vain = step.check.id in situation.unknown and satisfies(situation.present, step.setup)
    return not in_vain and _makes_sense(situation, step.check)


def _family_answered(situation: Situation, check: str) -> bool:
    family = situation.checklist.family_of(check)
    return family is not None and any(situation.is_read(member) for member in family.checks)


def _unread(situation: Situation, check: Check, setup: Condition) -> Iterator[Need]:
    """Yield what has to be answered for a check: itself, or the unread inputs of a derived one.

    Nothing is yielded for a derived check that needs a number of the instrument nobody has given.
    """
    if check.derived is None:
        yield Need(check, {**check.setup, **setup})
        return
    if (
        any(entry.given for entry in check.from_.values())
        and situation.instrument.scale_length is None
    ):
        return
    for entry in check.from_.values():
        if entry.check is not None and not situation.has_input(entry.check, entry.setup):
            yield from _unread(situation, situation.checklist.checks[entry.check], entry.setup)


def walk(
    ways: SetupMap, start: Mapping[str, str], needs: Sequence[Need], ceiling: int | None
) -> Way | None:
    """Go from `start` to each need in turn, always to the nearest; equals keep their order.

    `ceiling` is the highest tension on the way, None for any. None if there is no way.
    """
    here, minutes = start, 0.0
    left = list(needs)
    done: list[str] = []
    while left:
        routes = [ways.route(here, need.setup, ceiling) for need in left]
        reached = [(r.minutes, place, r) for place, r in enumerate(routes) if r is not None]
        if len(reached) < len(left):
            return None
        _, place, route = min(reached, key=lambda entry: entry[:2])
        here, minutes = route.end, minutes + route.minutes
        done.append(left.pop(place).check.id)
    return Way(done[0], minutes, here)
