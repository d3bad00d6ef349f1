"""Setups name dimensions and states that the checklist knows.

Passes:

    setups: {states: {strings: ["off", slack, at-pitch]}}
    checks:
      - {id: reach-inside, setup: {strings: [slack, "off"]}}

Fails:

    setups: {states: {strings: ["off", slack, at-pitch]}}
    checks:
      - {id: reach-inside, setup: {strings: loose}}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found, setups
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist

_RULE = "setups"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each dimension or state that is not known."""
    for spot, setup in setups(checklist):
        yield from _judge(checklist, spot, setup)
    known, head = checklist.setups, Spot("checklist", checklist.id, ("setups",))
    if known.tension not in known.states:
        message = f"`tension: {known.tension}` is none of the dimensions"
        yield found(checklist, _RULE, head.below("tension"), message, nearest("", known.states))
    elif known.pitch not in known.states[known.tension]:
        message = f"`pitch: {known.pitch}` is no state of `{known.tension}`"
        mend = nearest(known.pitch, known.states[known.tension])
        yield found(checklist, _RULE, head.below("pitch"), message, mend)


def _judge(
    checklist: Checklist, spot: Spot, setup: Mapping[str, tuple[str, ...]]
) -> Iterator[Problem]:
    states = checklist.setups.states
    for dimension, wanted in setup.items():
        if dimension not in states:
            message = f"the setup has no dimension `{dimension}`"
            yield found(
                checklist, _RULE, spot.below(dimension), message, nearest(dimension, states)
            )
            continue
        for i, state in enumerate(wanted):
            if state not in states[dimension]:
                message = f"`{state}` is no state of `{dimension}`"
                mend = nearest(state, states[dimension])
                yield found(checklist, _RULE, spot.below(dimension, i), message, mend)
