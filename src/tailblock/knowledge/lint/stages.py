"""A stage opens with checks that are made at that stage, within its minutes.

What is looked at on each step of tension can be read on every step above slack.

Passes:

    checks: [{id: look, minutes: 2, stages: [arrival]}]
    stages: [{id: arrival, budget: 12 min, opening: [look]}]

Fails:

    checks: [{id: look, minutes: 2, stages: [settled]}]
    stages: [{id: arrival, budget: 12 min, opening: [look]}, {id: settled, budget: 50 min}]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.entries.frame import steps
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.measures import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Stage

_RULE = "stages"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each check out of place, a warning for an opening that is too long."""
    for stage in checklist.stages.values():
        total = 0.0
        for i, named in enumerate(stage.opening):
            check = checklist.checks.get(named)
            if check is None:
                continue  # the rule `references` says so
            total += check.minutes
            spot = Spot("stage", stage.id, ("opening", i))
            if check.stages and stage.id not in check.stages:
                message = f"`{named}` is made at {', '.join(check.stages)}"
                mend = f"add `{stage.id}` to its stages, or take it out here"
                yield found(checklist, _RULE, spot, message, mend)
            if check.derived:
                message = f"`{named}` is derived and never asked by itself"
                yield found(checklist, _RULE, spot, message, "open with its inputs")
        yield from _on_each_step(checklist, stage)
        budget = _minutes(stage)
        if budget is not None and total > budget:
            message = f"the opening takes {total:g} min of a budget of {budget:g}"
            spot = Spot("stage", stage.id, ("budget",))
            yield found(checklist, _RULE, spot, message, severity="warning")


def _on_each_step(checklist: Checklist, stage: Stage) -> Iterator[Problem]:
    """Yield an error for each check that some step of tension does not allow."""
    tension = checklist.setups.tension
    for i, named in enumerate(stage.on_each_step):
        check = checklist.checks.get(named)
        allowed = check.setup.get(tension) if check else None
        spot = Spot("stage", stage.id, ("on_each_step", i))
        if check and not check.choices:
            message = f"`{named}` is measured: on a step there is only time to look"
            yield found(checklist, _RULE, spot, message, "name a check with choices")
        refused = [state for state in steps(checklist.setups) if allowed and state not in allowed]
        if refused:
            message = f"`{named}` cannot be read with {tension} {', '.join(refused)}"
            yield found(checklist, _RULE, spot, message, "name one that every step allows")


def _minutes(stage: Stage) -> float | None:
    try:
        return parse(stage.budget, "time").quantity.value * 60
    except UnitError:
        return None  # the rule `units` says so
