"""Trying vignettes on the engine: whether the right fault leads, and all advice was safe.

In: a checklist and a vignette. Out: `Tried`. The readings are taken one by one, as at the bench,
and advice is judged after each of them; what leads and what comes next is asked after the last.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.advice.ranking import LEAST_LEAD
from tailblock.pipeline import examine
from tailblock.practice.unsafe import Unsafe, unsafe

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice import CauseBelief
    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined
    from tailblock.practice.format import Expect, Vignette

FIRST = 3


@dataclass(frozen=True, slots=True)
class Tried:
    """What the engine made of a vignette, and what of it was expected.

    `first`: the leading faults, most lead first, no more than three. `nothing_wrong`: the harmless
    explanations, if the verdict is that nothing is wrong. `next_check` is the next one advised,
    `next_right` None if nothing was expected of it.
    """

    vignette: Vignette
    first: tuple[str, ...]
    nothing_wrong: tuple[str, ...]
    next_check: str | None
    leads_right: bool
    first_right: bool
    next_right: bool | None
    unsafe: tuple[Unsafe, ...]

    @property
    def lead(self) -> str | None:
        """Return the fault that leads, None if no reading has raised any."""
        return self.first[0] if self.first else None

    @property
    def passed(self) -> bool:
        """Return whether everything is as expected."""
        right = self.leads_right and self.first_right and self.next_right is not False
        return right and not self.unsafe


def try_vignette(checklist: Checklist, vignette: Vignette) -> Tried:
    """Take the readings of a vignette one after the other and compare with what is expected.

    Raises
    ------
    Contradiction
        The readings have probability zero together.
    """
    expect = vignette.expect
    found: list[Unsafe] = []
    for after, examined in enumerate(_one_by_one(checklist, vignette.inspection)):
        last = after == len(vignette.inspection.visits[0].readings)
        found.extend(unsafe(examined, expect.never, after=after, last=last))
    first = leading(examined.causes)
    verdict = examined.verdict
    harmless = verdict.faults if verdict.kind == "nothing-wrong" else ()
    next_check = _next_check(checklist, vignette.inspection)
    leads_right = _leads_right(expect, first, examined)
    return Tried(
        vignette=vignette,
        first=first,
        nothing_wrong=harmless,
        next_check=next_check,
        leads_right=leads_right,
        first_right=_first_right(expect, {*first, *harmless}, leads_right=leads_right),
        next_right=next_check in expect.next_among if expect.next_among else None,
        unsafe=tuple(found),
    )


def leading(causes: Sequence[CauseBelief]) -> tuple[str, ...]:
    """Return the faults that lead, most lead first, no more than three."""
    by_lead = sorted(causes, key=lambda cause: -cause.lead)
    return tuple(cause.id for cause in by_lead[:FIRST] if cause.lead > 0)


def leader(causes: Sequence[CauseBelief]) -> str | None:
    """Return the fault that leads, None if no reading has raised any enough to speak of."""
    first = max(causes, key=lambda cause: cause.lead, default=None)
    return first.id if first and first.lead >= LEAST_LEAD else None


@lru_cache(maxsize=8)
def without_opening(checklist: Checklist) -> Checklist:
    """Return a checklist whose stages open with no list: what comes next is then what tells most.

    A vignette leaves out the routine, and the routine would come first whatever was read. The same
    each time: what the engine keeps of a checklist, it keeps by its identity.
    """
    stages = {
        id_: stage.model_copy(update={"opening": ()}) for id_, stage in checklist.stages.items()
    }
    return replace(checklist, stages=MappingProxyType(stages))


def _one_by_one(checklist: Checklist, inspection: Inspection) -> Iterator[Examined]:
    """Yield what follows from no reading, from the first, from the first two ... from all."""
    (visit,) = inspection.visits
    for count in range(len(visit.readings) + 1):
        so_far = replace(visit, readings=visit.readings[:count])
        yield examine(checklist, replace(inspection, visits=(so_far,)))


def _next_check(checklist: Checklist, inspection: Inspection) -> str | None:
    """Return the check that is advised next for what it would tell."""
    advice = examine(without_opening(checklist), inspection).advice.advice
    return advice[0].check if advice else None


def _leads_right(expect: Expect, first: tuple[str, ...], examined: Examined) -> bool:
    """Return whether what leads is expected; harmless faults win by the verdict alone."""
    verdict = examined.verdict
    if not expect.leads:
        return verdict.kind != "leading"
    faults = examined.checklist.faults
    harmless = {fault for fault in expect.leads if faults[fault].harm == "none"}
    if verdict.kind == "nothing-wrong" and harmless.intersection(verdict.faults):
        return True
    return bool(first) and first[0] in set(expect.leads) - harmless


def _first_right(expect: Expect, said: set[str], *, leads_right: bool) -> bool:
    """Return whether all that is expected among the first is there; failing names, what leads."""
    if expect.among_first_three:
        return said.issuperset(expect.among_first_three)
    return leads_right or not said.isdisjoint(expect.leads)
