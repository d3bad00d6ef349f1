"""Checks that decide whether others count.

In: a `Situation`. Out: which gates a check hangs on, and whether one has shut it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.advice.situation import Situation
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Gate


def guards(gate: Gate, check: Check) -> bool:
    """Return whether a gate decides about a check, by its id or by its quantity."""
    return check.id in gate.of or (check.measure is not None and check.measure.quantity in gate.of)


def gates_of(checklist: Checklist, name: str) -> Iterator[tuple[Check, Gate]]:
    """Yield the gates that decide about a check, with the check that each belongs to."""
    check = checklist.checks[name]
    for keeper in checklist.checks.values():
        if keeper.id != name:
            yield from ((keeper, gate) for gate in keeper.gate if guards(gate, check))


def shut(situation: Situation, name: str, end: Mapping[str, str] | None) -> bool:
    """Return whether a gate has found that an answer of a check would count for nothing.

    A gate's answer holds for the tension that it was given under: a check that is read under
    another one is offered, and the gate before it.

    Parameters
    ----------
    name
        The id of the check.
    end
        The setup in which it would be read, None if there is no way to it.
    """
    place = situation.present if end is None else end
    return any(
        gate.then == "no-evidence"
        and _fired(situation, keeper, gate)
        and _holds(situation, keeper.id, place)
        for keeper, gate in gates_of(situation.checklist, name)
    )


def stale(situation: Situation, check: Check) -> bool:
    """Return whether a gate has shut its checks in a setup of another tension than the present."""
    return (
        situation.has(check.id)
        and any(_fired(situation, check, gate) for gate in check.gate if gate.then == "no-evidence")
        and not _holds(situation, check.id, situation.present)
    )


def _fired(situation: Situation, keeper: Check, gate: Gate) -> bool:
    return any(situation.reached(keeper.id, level) for level in gate.from_)


def _holds(situation: Situation, keeper: str, setup: Mapping[str, str]) -> bool:
    tension = situation.map.tension(setup)
    return any(
        situation.map.tension(given) == tension for given in situation.answered.get(keeper, ())
    )
