"""The plan: staged options that the player decides on, and what each of them leaves.

In: the chosen work, whom to ask for the state after some remedies and for what comes back, the
faults kept in view. Out: `Plan`. The options build on each other: each holds for its own work and
all of the options before it. Chances are exact; work that waits for a finding counts as done where
its fault is there. Nothing is decided for the player.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.choose_work import KINDS
from tailblock.advice.waiting import FIRM, IF_FOUND

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

    from tailblock.advice.choose_work import Chosen, Kind, PlannedWork
    from tailblock.advice.results import CauseBelief
    from tailblock.advice.returning import ReturnRisk
    from tailblock.advice.watching import Watched
    from tailblock.knowledge.checklist import Checklist

    Returns = Callable[[Sequence[str], Collection[str]], tuple[ReturnRisk, ...] | None]
    AskAfter = Callable[[Sequence[str], Sequence[str]], "After | None"]

MATTERS = frozenset({"playability", "serious", "destructive"})
SHOWS = 0.05  # what may come to light, or comes back, less often than this is not named


@dataclass(frozen=True, slots=True)
class After:
    """The state after some work: the probability of every fault, and that any of some is there."""

    probability: Mapping[str, float]
    any_left: float


@dataclass(frozen=True, slots=True)
class Option:
    """A stage of the plan, with all stages before it.

    `goal`: the faults that it is there to cure. `insufficient`: the chance that any of them is
    still there after it; `leaves`: every fault that matters and is then more likely than 0.20, with
    its probability; `returns`: what it repairs and comes back while the causes stay. All three are
    None where exact probabilities are out of reach. `stops`: work after which the player is asked
    again, with what it may bring to light and how probable that is.
    """

    kind: Kind
    works: tuple[PlannedWork, ...]
    goal: tuple[str, ...]
    insufficient: float | None
    leaves: tuple[tuple[str, float], ...] | None
    returns: tuple[ReturnRisk, ...] | None
    stops: Mapping[str, tuple[tuple[str, float], ...]]

    @property
    def access(self) -> Mapping[tuple[str, str], float]:
        """Return what must be opened, each once, with its minutes."""
        return {state: cost for work in self.works for state, cost in work.access.items()}


@dataclass(frozen=True, slots=True)
class Plan:
    """The options, what is kept in view, and what follows if nothing is done.

    `follows`: the faults that call for work and then stay, the gravest first.
    """

    chosen: Chosen
    options: tuple[Option, ...]
    watch: tuple[Watched, ...]
    follows: tuple[CauseBelief, ...]

    @property
    def remedies(self) -> tuple[str, ...]:
        """Return all remedies in working order."""
        return tuple(work.remedy for work in self.chosen.works)


def make_plan(
    checklist: Checklist,
    chosen: Chosen,
    watch: Sequence[Watched],
    *,
    after: AskAfter,
    returns: Returns,
    probability: Mapping[str, float],
) -> Plan:
    """Return the plan.

    Parameters
    ----------
    after
        Remedies and faults -> the state after the remedies, and the chance that any of the faults
        is there then.
    returns
        Remedies and repaired faults -> the risk that each comes back.
    probability
        Of every fault that applies, as it stands.
    """
    options: list[Option] = []
    done: list[str] = []
    goal: list[str] = []
    for kind in KINDS:
        works = chosen.of(kind)
        if not works:
            continue
        done += [work.remedy for work in works]
        goal += [fault for work in works for fault in work.faults if fault not in goal]
        state = after(done, goal)
        back = returns(done, goal)
        options.append(
            Option(
                kind=kind,
                works=works,
                goal=tuple(goal),
                insufficient=None if state is None else state.any_left,
                leaves=None if state is None else _leaves(checklist, chosen, probability, state),
                returns=None if back is None else tuple(r for r in back if r.chance >= SHOWS),
                stops={
                    work.remedy: _revealed(checklist, chosen, work, probability)
                    for work in works
                    if checklist.remedies[work.remedy].stop_point
                    or checklist.remedies[work.remedy].may_reveal
                },
            )
        )
    order = ("destructive", "serious", "playability", "cosmetic")
    follows = sorted(
        (cause for cause in chosen.calling.values() if cause.probability >= FIRM),
        key=lambda cause: (order.index(cause.harm), -cause.probability),
    )
    return Plan(chosen, tuple(options), tuple(watch), tuple(follows))


def _leaves(
    checklist: Checklist, chosen: Chosen, now: Mapping[str, float], state: After
) -> tuple[tuple[str, float], ...]:
    """Return what calls for work and is still likely, and what the work itself may have left."""
    left = [
        (fault, chance)
        for fault, chance in state.probability.items()
        if chance >= IF_FOUND
        and checklist.faults[fault].harm in MATTERS
        and checklist.faults[fault].kind == "condition"
        and (fault in chosen.calling or chance - now[fault] >= SHOWS)
    ]
    return tuple(sorted(left, key=lambda one: -one[1]))


def _revealed(
    checklist: Checklist, chosen: Chosen, work: PlannedWork, probability: Mapping[str, float]
) -> tuple[tuple[str, float], ...]:
    """Return what may come to light and is not planned for, with its probability."""
    named = checklist.remedies[work.remedy].may_reveal
    found = {one.fault: probability[one.fault] for one in named if one.fault in probability}
    planned = {fault for one in chosen.works if not one.if_found for fault in one.faults}
    likely = [(f, chance) for f, chance in found.items() if chance >= SHOWS and f not in planned]
    return tuple(sorted(likely, key=lambda one: -one[1]))
