"""Whether work may be done, or waits: for a finding, for its cause to be mended, for a look.

In: the causes as they stand, what was looked at and what could be looked at now. Out: for a remedy
of a fault what it waits for.

A consequence is not worked on before its cause: work waits while what brings its fault about, or
what its remedy names (`waits_for`), is found and can be mended; then all is looked at again. What
is dangerous in tension does not wait: it cannot be strung to be looked at. What is suspected of
these is looked for first; before work that is hot or cannot be taken back even a slight suspicion,
while a look for it is left; before hot work also what else the heat of old has loosened.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.ranking import RAISED, SURE
from tailblock.advice.returning import meant_for, remedies_for
from tailblock.advice.rules import GRAVE

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.advice.results import CauseBelief
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Remedy

FIRM = 0.50  # from here on work is offered
IF_FOUND = 0.20  # from here on work is offered for the case that the fault is found
# They cannot be taken back, and a look costs minutes: from `SURE` on.
HOT = frozenset({"heat", "steam", "solvent"})
# What work must not be done on, while a look for it is left: from here on that look comes first.
SUSPECT_HOT, SUSPECT = 0.05, 0.10  # heat; what cannot be taken back


@dataclass(frozen=True, slots=True)
class Waiting:
    """What work waits for.

    `seen_at_bench`: the faults that an answered check at the bench shows. `explained`: fault -> the
    causes of it that explain it where both are there. `in_reach`: the faults that a look at the
    bench could settle now.
    """

    checklist: Checklist
    traits: Mapping[str, str]
    standing: Mapping[str, CauseBelief]
    seen_at_bench: Collection[str]
    explained: Mapping[str, Sequence[str]]
    in_reach: Collection[str]

    def firm(self, remedy: Remedy, fault: str) -> bool:
        """Return whether work on a fault neither waits for a finding nor for other work."""
        return (
            self.likely(remedy, fault)
            and not self.first_mended(remedy, fault)
            and not self.to_look_for(remedy, fault)
        )

    def likely(self, remedy: Remedy, fault: str) -> bool:
        """Return whether a fault was found surely enough for its remedy.

        What only the player has told, or what is likely because something else is, was not found.
        """
        return self.found_at_bench(fault, SURE if HOT.intersection(remedy.hazards) else FIRM)

    def first_mended(self, remedy: Remedy, fault: str) -> tuple[str, ...]:
        """Return what is there, can be mended, and comes before a remedy of a fault.

        What brings the fault about, with the dry or wet air that it goes with, and what the remedy
        names: found at the bench, or so probable by its consequences that it is reckoned with.
        """
        causes = self.explained.get(fault, ())
        if self.checklist.faults[fault].under_tension == "danger":
            causes = ()
        return tuple(
            cause
            for cause in dict.fromkeys((*causes, *remedy.waits_for))
            if cause not in meant_for(remedy)
            and (self.found_at_bench(cause, FIRM) or self._raised_to(cause, SURE))
            and remedies_for(self.checklist, self.traits, cause)
        )

    def to_look_for(self, remedy: Remedy, fault: str) -> tuple[str, ...]:
        """Return what is suspected, would come before a remedy, and nobody has looked for.

        What the remedy names; and for hot work what the same event may have loosened as well, since
        heat would do it again. What hot work, or work that cannot be taken back, must not be
        done on counts as looked for only when no look is left that could settle it, or when it is
        found.
        """
        hot = bool(HOT.intersection(remedy.hazards))
        least = SUSPECT_HOT if hot else None if remedy.reversible else SUSPECT
        events = {
            cause
            for cause in self.explained.get(fault, ())
            if hot
            and self.standing[cause].kind == "event"
            and self.standing[cause].probability >= FIRM
        }
        return tuple(
            other
            for other, cause in self.standing.items()
            if other not in meant_for(remedy)
            and (
                (other in remedy.waits_for and self._suspected(cause, least))
                or (
                    cause.harm in GRAVE
                    and self._suspected(cause)
                    and events.intersection(self.explained.get(other, ()))
                )
            )
        )

    def _suspected(self, cause: CauseBelief, least: float | None = None) -> bool:
        """Return whether a fault may well be there, and has not been looked for enough.

        `least`: from where on a look that is left comes first; None if one look was enough.
        """
        if least is not None and cause.id in self.in_reach:
            return least <= cause.probability < FIRM
        return cause.probability >= IF_FOUND and cause.id not in self.seen_at_bench

    def found_at_bench(self, fault: str, least: float) -> bool:
        """Return whether looks at the bench made a fault likely: a high start is no finding."""
        return self._raised_to(fault, least) and fault in self.seen_at_bench

    def _raised_to(self, fault: str, least: float) -> bool:
        cause = self.standing.get(fault)
        return cause is not None and cause.probability >= least and cause.decibans >= RAISED
