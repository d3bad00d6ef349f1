"""Checks that decide whether others count, seen from what is still unread.

In: a `Situation`. Out: which gates a check hangs on, whether one has shut it, and whether a gate
must be asked again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice.situation import Situation
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check


def keepers_of(checklist: Checklist, name: str) -> frozenset[str]:
    """Return the checks whose gates decide about a check, by its id or by its quantity."""
    check = checklist.checks[name]
    names = {name, check.measure.quantity if check.measure else name}
    return frozenset(
        keeper.id
        for keeper in checklist.checks.values()
        if keeper.id != name and any(not names.isdisjoint(gate.of) for gate in keeper.gate)
    )


def shut(situation: Situation, check: Check, end: Mapping[str, str] | None) -> bool:
    """Return whether a gate has found that an answer of a check would count for nothing.

    A gate's answer holds for the tension that it was given under: a check that would be read under
    another one is not shut, for the gate is asked again there first.

    Parameters
    ----------
    end
        The setup in which the check would be read, None if there is no way to it.
    """
    place = situation.present if end is None else end
    keeper = situation.gates.effect(check, place).silenced_by
    return bool(keeper) and _holds(situation, keeper, place)


def stale(situation: Situation, check: Check) -> bool:
    """Return whether a gate has shut others in a setup of another tension than the present one."""
    shutting = (gate for gate in check.gate if gate.then == "no-evidence")
    fired = any(situation.reached(check.id, level) for gate in shutting for level in gate.from_)
    return fired and not _holds(situation, check.id, situation.present)


def _holds(situation: Situation, keeper: str, setup: Mapping[str, str]) -> bool:
    """Return whether a gate was answered under the tension of a setup; a derived one always is."""
    given = situation.answered.get(keeper)
    tension = situation.map.tension(setup)
    return given is None or any(situation.map.tension(one) == tension for one in given)
