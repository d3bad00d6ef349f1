"""A derived check names a figure that there is and gives it what it takes.

Every argument without an assumed value comes from a measured check of the same quantity or from the
instrument; the result is of the check's quantity. No derived check needs itself.

Passes:

    checks:
      - {id: tilt, measure: {quantity: angle, unit: deg}}
      - id: tilt-change
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}, slack: {check: tilt}}

Fails:

    checks:
      - {id: tilt, measure: {quantity: angle, unit: deg}}
      - id: tilt-change
        measure: {quantity: angle, unit: deg}
        derived: tilt_change
        from: {pitch: {check: tilt}}
"""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

from tailblock.knowledge.lint.walk import Spot, found
from tailblock.knowledge.mending import nearest
from tailblock.measures.figures import FIGURES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, DerivedInput
    from tailblock.measures.figures import Figure

_RULE = "derived"
_GIVEN = {"scale_length": "length"}


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each derived check that cannot be worked out."""
    for check in checklist.checks.values():
        if check.derived is None:
            continue
        if check.derived in FIGURES:
            yield from _judge(checklist, check, FIGURES[check.derived])
        else:
            spot = Spot("check", check.id, ("derived",))
            message = f"there is no figure `{check.derived}`"
            yield found(checklist, _RULE, spot, message, nearest(check.derived, FIGURES))
    yield from _rings(checklist)


def _judge(checklist: Checklist, check: Check, figure: Figure) -> Iterator[Problem]:
    spot = Spot("check", check.id, ("from",))
    for name in figure.required:
        if name not in check.from_:
            message = f"`{figure.name}` needs `{name}`"
            yield found(checklist, _RULE, spot, message, f"add `{name}: {{check: ...}}`")
    for name, given in check.from_.items():
        if name not in figure.arguments:
            message = f"`{figure.name}` does not take `{name}`"
            mend = nearest(name, figure.arguments)
            yield found(checklist, _RULE, spot.below(name), message, mend)
            continue
        kind = _kind(checklist, given)
        if kind is not None and kind != figure.arguments[name]:
            message = f"`{name}` is {figure.arguments[name]}, and this is {kind}"
            yield found(checklist, _RULE, spot.below(name), message)
    if check.measure and check.measure.quantity != figure.result:
        message = f"`{figure.name}` gives {figure.result}, not {check.measure.quantity}"
        yield found(checklist, _RULE, Spot("check", check.id, ("measure", "quantity")), message)


def _kind(checklist: Checklist, given: DerivedInput) -> str | None:
    """Return the quantity of an input; None if the check is not there at all."""
    if given.given is not None:
        return _GIVEN[given.given]
    source = checklist.checks.get(given.check or "")
    if source is None:
        return None
    return source.measure.quantity if source.measure else "not measured"


def _rings(checklist: Checklist) -> Iterator[Problem]:
    needs = {
        check.id: [given.check for given in check.from_.values() if given.check]
        for check in checklist.checks.values()
    }
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as error:
        ring: list[str] = error.args[1]
        message = f"a ring of derived checks: {' is needed by '.join(ring)}"
        yield found(checklist, _RULE, Spot("check", ring[1], ("from",)), message)
