"""The levels of a check are told apart, and the chances of reaching them never rise.

Level ids are unique within a check, over both sides; `normal` is the middle of a measurement with a
low side. `at_least` and `otherwise` name levels beyond the normal one, on their own side, and so do
gates and what follows another check. At least the second level is also at least the first, so its
chance cannot be greater.

Passes:

    faults: [{id: bridge-lifting}]
    checks:
      - id: feel-the-edge
        choices: [{level: none, text: No}, {level: slight, text: A bit}, {level: open, text: Yes}]
        shows: [{fault: bridge-lifting, at_least: {slight: usually, open: often}}]

Fails:

    faults: [{id: bridge-lifting}]
    checks:
      - id: feel-the-edge
        choices: [{level: none, text: No}, {level: slight, text: A bit}, {level: open, text: Yes}]
        shows: [{fault: bridge-lifting, at_least: {slight: seldom, open: often}}]
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from tailblock.knowledge.levels import NORMAL, levels_of
from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check

_RULE = "levels"


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each level that cannot be, and each chance that rises."""
    for check in checklist.checks.values():
        yield from _names(checklist, check)
        yield from _chances(checklist, check)
        yield from _named_elsewhere(checklist, check)


def _names(checklist: Checklist, check: Check) -> Iterator[Problem]:
    ids = levels_of(check).ids
    spot = Spot("check", check.id, ("measure" if check.measure else "choices",))
    if len(ids) < 2:
        yield found(checklist, _RULE, spot, "a check has at least two levels")
    for level in dict.fromkeys(level for level in ids if ids.count(level) > 1):
        what = "is the middle one" if level == NORMAL else "is there twice"
        yield found(checklist, _RULE, spot, f"the level `{level}` {what}", "rename it")
    if check.measure is not None:
        for i, special in enumerate(check.measure.limits_when):
            if levels_of(check.model_copy(update={"measure": special})).ids != ids:
                message = f"these limits must have the levels {', '.join(ids)}, in this order"
                yield found(checklist, _RULE, spot.below("limits_when", i), message)


def _chances(checklist: Checklist, check: Check) -> Iterator[Problem]:
    levels = levels_of(check)
    sides = {"at_least": levels.high or levels.low, "at_least_high": levels.high}
    sides["at_least_low"] = levels.low
    both = bool(levels.low and levels.high)
    for i, link in enumerate(check.shows):
        for name, side in sides.items():
            chances: dict[str, float] = getattr(link, name)
            spot = Spot("check", check.id, ("shows", i, name))
            if name == "at_least" and chances and both:
                mend = "say `at_least_low` or `at_least_high`"
                yield found(checklist, _RULE, spot, "this check has two sides", mend)
            else:
                yield from _side(checklist, spot, chances, side)
    spot = Spot("check", check.id, ("otherwise",))
    for side in (levels.low, levels.high):
        own = {level: chance for level, chance in check.otherwise.items() if level in side}
        yield from _side(checklist, spot, own, side)
    for level in check.otherwise:
        if level not in _beyond(check):
            yield found(checklist, _RULE, spot.below(level), *_unknown(level, _beyond(check)))


def _side(
    checklist: Checklist, spot: Spot, chances: Mapping[str, float], side: Sequence[str]
) -> Iterator[Problem]:
    """Judge the chances of at least each level of one side, mildest first."""
    for level in chances:
        if level not in side:
            yield found(checklist, _RULE, spot.below(level), *_unknown(level, side))
    for mild, severe in pairwise([level for level in side if level in chances]):
        if chances[severe] > chances[mild]:
            message = f"at least `{severe}` cannot be more likely than at least `{mild}`"
            mend = "chances never rise with the level"
            yield found(checklist, _RULE, spot.below(severe), message, mend)


def _named_elsewhere(checklist: Checklist, check: Check) -> Iterator[Problem]:
    """Judge the levels from which gates fire and others follow: never the normal one."""
    for i, gate in enumerate(check.gate):
        for j, level in enumerate(gate.from_):
            if level not in _beyond(check):
                spot = Spot("check", check.id, ("gate", i, "from", j))
                yield found(checklist, _RULE, spot, *_unknown(level, _beyond(check)))
    if check.follows and check.follows.check in checklist.checks:
        beyond = _beyond(checklist.checks[check.follows.check])
        if check.follows.from_ not in beyond:
            spot = Spot("check", check.id, ("follows", "from"))
            yield found(checklist, _RULE, spot, *_unknown(check.follows.from_, beyond))


def _beyond(check: Check) -> tuple[str, ...]:
    levels = levels_of(check)
    return (*levels.low, *levels.high)


def _unknown(level: str, known: Sequence[str]) -> tuple[str, str]:
    return f"`{level}` is no level that can stand here", nearest(level, known)
