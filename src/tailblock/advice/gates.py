"""Checks that decide whether others count, seen from what is still unread.

In: a `Situation`. Out: which gates a check hangs on, whether one has shut it, and whether a gate
must be asked again.
"""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice.situation import Situation
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Gate


@lru_cache(maxsize=8)
def keepers(checklist: Checklist) -> Mapping[str, frozenset[str]]:
    """Return, for every check, those whose gates decide about it, by its id or its quantity."""
    gated = [check for check in checklist.checks.values() if check.gate]
    return MappingProxyType(
        {
            check.id: frozenset(
                keeper.id
                for keeper in gated
                if keeper is not check and any(_guards(gate, check) for gate in keeper.gate)
            )
            for check in checklist.checks.values()
        }
    )


def shut(situation: Situation, check: Check, end: Mapping[str, str] | None) -> bool:
    """Return whether a gate has found that an answer of a check would count for nothing.

    The answer of a gate that is read under some tensions only holds for that which it was given
    under: a check that would be read under another one is not shut, for the gate is asked again
    there first.

    Parameters
    ----------
    end
        The setup in which the check would be read, None if there is no way to it.
    """
    place = situation.present if end is None else end
    checks = situation.checklist.checks
    return any(
        _fired(situation, checks[keeper], check) and _holds(situation, keeper, place)
        for keeper in situation.keepers[check.id]
    )


def stale(situation: Situation, check: Check) -> bool:
    """Return whether a gate has shut others under a tension that is not the present one."""
    return _fired(situation, check) and not _holds(situation, check.id, situation.present)


def _guards(gate: Gate, check: Check) -> bool:
    return check.id in gate.of or (check.measure is not None and check.measure.quantity in gate.of)


def _fired(situation: Situation, keeper: Check, check: Check | None = None) -> bool:
    """Return whether a gate leaves no evidence: of one check, or of any."""
    return any(
        gate.then == "no-evidence"
        and (check is None or _guards(gate, check))
        and any(situation.reached(keeper.id, level) for level in gate.from_)
        for gate in keeper.gate
    )


def _holds(situation: Situation, keeper: str, setup: Mapping[str, str]) -> bool:
    """Return whether the answer of a gate holds under the tension of a setup.

    That of a derived one does, and of one that does not ask for a tension: whether the wood has
    come to the warmth of the room is the same with slack strings.
    """
    checklist = situation.checklist
    given = situation.answered.get(keeper)
    tension = situation.map.tension(setup)
    return (
        given is None
        or checklist.setups.tension not in checklist.checks[keeper].setup
        or any(situation.map.tension(one) == tension for one in given)
    )
