"""Whether work lasts: how likely what it repairs is to come back while the causes stay, in words.

In: `Examined`, the offered work. Out: `Return`s. The chances are the network's; no date is claimed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.returning import with_needs
from tailblock.advice.sentences import inline
from tailblock.messages import _
from tailblock.report.model import Return, Share
from tailblock.report.sentences import NO_LESS, NO_RETURN, RETURNS, WITH_ALL
from tailblock.report.wording import percent, points

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.advice.returning import ReturnRisk
    from tailblock.report.examined import Examined

LEAST = 0.05  # what comes back less often is not worth a line
NAMED = 2  # causes in a sentence
WEIGHS = 0.01  # a cause that adds less to the risk is not named


class Returning:
    """What comes back after each piece of the offered work, and after all that is firm."""

    def __init__(self, examined: Examined, firm: Sequence[str]) -> None:
        """Take in the work that does not wait for a finding."""
        self._examined = examined
        self._firm = with_needs(examined.checklist, firm)
        faults = {fix.fault for id_ in firm for fix in examined.checklist.remedies[id_].fixes}
        together = examined.return_risk(self._firm, faults, shares=False)
        self.in_reach = together is not None
        self._with_all: Mapping[str, ReturnRisk] = {risk.fault: risk for risk in together or ()}

    def after(self, remedy: str, faults: Collection[str]) -> tuple[Return, ...]:
        """Return what comes back of some faults if this work is all that is done."""
        plan = with_needs(self._examined.checklist, [remedy])
        risks = self._examined.return_risk(plan, faults) or ()
        more = len(self._firm) > len(plan) and remedy in self._firm
        return tuple(self._return(risk, more=more) for risk in risks if risk.chance >= LEAST)

    def _return(self, risk: ReturnRisk, *, more: bool) -> Return:
        names = self._examined.checklist.faults
        all_ = self._with_all.get(risk.fault) if more else None
        text = f"{names[risk.fault].name}: {in_words(risk, self._examined)}"
        if all_ is not None:
            then = percent(all_.chance)
            less = _(NO_LESS) if then == percent(risk.chance) else then
            text = f"{text}; {_(WITH_ALL).format(chance=less)}"
        return Return(
            id=risk.fault,
            name=names[risk.fault].name,
            chance=risk.chance,
            with_all=None if all_ is None else all_.chance,
            causes=tuple(Share(id_, names[id_].name, share) for id_, share in risk.causes),
            text=text,
        )


def in_words(risk: ReturnRisk, examined: Examined) -> str:
    """Say how likely a fault is to come back, and which causes add most, by percentage points.

    No cause is named if none adds anything by itself: any of several is then enough.
    """
    if risk.chance == 0.0:
        return _(NO_RETURN)
    names = examined.checklist.faults
    told = [
        f"{inline(names[id_].name)}: {points(share)}"
        for id_, share in risk.causes[:NAMED]
        if share >= WEIGHS
    ]
    through = _(" (through {told})").format(told="; ".join(told)) if told else ""
    return _(RETURNS).format(chance=percent(risk.chance), through=through)
