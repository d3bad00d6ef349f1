"""The rules of the grades: for each the grade, when it is given, and that in words.

In: one fault of a part as it stands. Out: whether a rule fires. `grades` asks them in this order
and takes the first that any fault of a part fires. The limits are from memory.

A starting chance alone is no finding: what only everybody's chance makes likely (old strings that
nobody looked at) gives no condition and no plan, but keeps its warnings of danger.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.knowledge.words import stands_above
from tailblock.messages import N_

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.entries import Fault

GRAVE = frozenset({"serious", "destructive"})


@dataclass(frozen=True, slots=True)
class Standing:
    """One fault of a part with all that the rules ask of it.

    `raised`: the readings have raised it above its start. `looked_at`: an answered check shows it.
    `found`: one or the other, so that more than its starting chance speaks for it.
    `limit`: above it a danger fault is open.
    `at_the_top`: one of its readings is at an outermost level. `at_pitch`: the instrument stands at
    pitch or above.
    """

    fault: Fault
    probability: float
    raised: bool
    looked_at: bool
    found: bool
    limit: float
    at_the_top: bool
    at_pitch: bool

    @property
    def grave(self) -> bool:
        """Return whether its harm is serious or worse."""
        return self.fault.harm in GRAVE

    @property
    def danger(self) -> bool:
        """Return whether tension could finish it."""
        return self.fault.under_tension == "danger"

    @property
    def open_danger(self) -> bool:
        """Return whether it is a danger fault above the limit."""
        return self.danger and stands_above(self.probability, self.limit)


@dataclass(frozen=True, slots=True)
class Rule:
    """A grade, the sentence that says when it is given, and the test of one fault."""

    grade: int
    words: str
    fires: Callable[[Standing], bool]


def _failed(s: Standing) -> bool:
    destroys = s.fault.harm == "destructive" or (s.fault.harm == "serious" and s.danger)
    return s.found and s.probability >= 0.80 and destroys


def _failing(s: Standing) -> bool:
    return s.found and s.grave and s.probability >= 0.50


def _unplayable(s: Standing) -> bool:
    return s.fault.harm == "playability" and s.at_the_top and s.probability >= 0.80


def _worn(s: Standing) -> bool:
    felt = s.fault.harm in {"playability", "cosmetic"}
    return s.found and felt and s.probability >= 0.50


def _tearing(s: Standing) -> bool:
    return s.at_pitch and s.danger and s.probability >= 0.50


def _any_moment(s: Standing) -> bool:
    return s.fault.pace == "any-moment" and s.grave and s.probability >= 0.30


def _raised_danger(s: Standing) -> bool:
    return s.open_danger and s.raised


def _moving(s: Standing) -> bool:
    fast = s.fault.pace in {"weeks", "any-moment"}  # what may go at any moment is no slower
    return fast and s.fault.under_tension == "watch" and s.probability >= 0.50


def _in_the_way(s: Standing) -> bool:
    bars = s.grave or s.fault.harm == "playability"
    return s.found and bars and s.probability >= 0.50


def _not_cleared(s: Standing) -> bool:
    return s.open_danger


def _possible(s: Standing) -> bool:
    return s.grave and s.probability >= 0.10


def _changing_looks(s: Standing) -> bool:
    goes_on = s.fault.harm == "cosmetic" and s.fault.pace != "stable"
    return s.found and goes_on and s.probability >= 0.50


CONDITION = (
    Rule(
        3,
        N_("a fault at 0.80 or more that destroys, or is serious and a danger in tension"),
        _failed,
    ),
    Rule(2, N_("a serious or destructive fault at 0.50 or more"), _failing),
    Rule(
        2,
        N_("a fault of playability at 0.80 or more, a reading of it at the top level"),
        _unplayable,
    ),
    Rule(1, N_("a fault of playability or looks at 0.50 or more"), _worn),
)
SOUND = N_("every serious fault of it has been looked at and stands below 0.20")
NOT_DETERMINED = N_(
    "not every serious or likely fault of it has been looked at and found improbable"
)

URGENCY = (
    Rule(4, N_("at pitch with a danger fault at 0.50 or more"), _tearing),
    Rule(4, N_("a serious fault at 0.30 or more that can get worse at any moment"), _any_moment),
    Rule(3, N_("a danger fault above the limit, raised by readings"), _raised_danger),
    Rule(
        3, N_("a fault to watch in tension at 0.50 or more that gets worse within weeks"), _moving
    ),
    Rule(2, N_("a fault of playability or worse at 0.50 or more"), _in_the_way),
    Rule(1, N_("a danger fault above the limit, not yet cleared: look first"), _not_cleared),
    Rule(1, N_("a serious or destructive fault at 0.10 or more"), _possible),
    Rule(1, N_("a fault of looks at 0.50 or more that goes on"), _changing_looks),
)  # fmt: skip
WATCHED = N_("on the watch list of finished work")
NO_URGENCY = N_("nothing in it calls for work or watching")
