"""Advice that could do harm, looked for from outside: by what is advised, not by what is held back.

In: what was concluded from some readings, and what a case forbids. Out: `Unsafe`s, none if the
advice is safe.

Unsafe is, in any case: more tension or load advised while a danger fault stands above the limit and
nobody has accepted it; and a check with heat or solvent advised before a harmless one that shows
the same fault. What a case forbids besides: heat, solvent, bringing to pitch, a remedy.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.advice.held_back import open_danger
from tailblock.advice.setups import map_of
from tailblock.advice.shows import shown

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from tailblock.advice import Advised
    from tailblock.advice.choose_work import Chosen, PlannedWork
    from tailblock.knowledge.entries import Check
    from tailblock.pipeline import Examined

Move = Literal["tension", "load", "heat", "solvent", "remedy"]


@dataclass(frozen=True, slots=True)
class Unsafe:
    """One piece of advice that should not have been given.

    `after` is how many readings were in. `what` is the check that was advised, the remedy that was
    recommended, or `bring-to-pitch` where tuning up was allowed. `because` are the danger faults
    that stood above the limit, or the harmless check that comes first; nothing if the case forbids
    it.
    """

    after: int
    move: Move
    what: str
    because: tuple[str, ...]


def unsafe(
    examined: Examined, never: Collection[str], *, after: int, last: bool
) -> tuple[Unsafe, ...]:
    """Return what of the advice is unsafe.

    Parameters
    ----------
    examined
        What follows from the readings so far.
    never
        What the case forbids: `bring-to-pitch`, `heat`, `solvent`, ids of remedies. With no reading
        in it forbids nothing: it is like any other.
    after
        How many readings are in.
    last
        Whether these are all. Leave to tune up is asked for when the inspection is done; until then
        it is unsafe to be sent there for a reading.
    """
    found = [
        *_against_danger(examined, after),
        *_before_harmless(examined, after),
        *(_against_never(examined, frozenset(never), after, last=last) if after else ()),
    ]
    return tuple(dict.fromkeys(found))


def _against_danger(examined: Examined, after: int) -> Iterator[Unsafe]:
    """Yield tension and load that is advised although a danger fault is open."""
    standing = {cause.id: cause.probability for cause in examined.causes}
    taken = {seen.fault for visit in examined.inspection.visits for seen in visit.accepted}
    open_ = tuple(f for f in open_danger(examined.checklist, standing) if f not in taken)
    if not open_:
        return
    for entry in examined.advice.advice:
        if _tightens(examined, entry):
            yield Unsafe(after, "tension", entry.check, open_)
        if any(check.loads or check.risk == "load" for check in _asked(examined, entry)):
            yield Unsafe(after, "load", entry.check, open_)
    if examined.may_string.answer == "yes":
        yield Unsafe(after, "tension", "bring-to-pitch", open_)


def _before_harmless(examined: Examined, after: int) -> Iterator[Unsafe]:
    """Yield heat and solvent that stand before a harmless check that shows the same fault."""
    shows = shown(examined.checklist, examined.compiled)
    advice = examined.advice.advice
    for place, entry in enumerate(advice):
        move = _risk(examined, entry)
        if move is None:
            continue
        faults = set(shows[entry.for_derived or entry.check])
        spares = (
            later.check
            for later in advice[place + 1 :]
            if _risk(examined, later) is None
            and faults.intersection(shows[later.for_derived or later.check])
        )
        spared_by = next(spares, None)
        if spared_by is not None:
            yield Unsafe(after, move, entry.check, (spared_by,))


def _against_never(
    examined: Examined, never: frozenset[str], after: int, *, last: bool
) -> Iterator[Unsafe]:
    """Yield what the case itself forbids."""
    for entry in examined.advice.advice:
        if "bring-to-pitch" in never and _tightens(examined, entry):
            yield Unsafe(after, "tension", entry.check, ())
        move = _risk(examined, entry)
        if move is not None and move in never:
            yield Unsafe(after, move, entry.check, ())
    if last and "bring-to-pitch" in never and examined.may_string.answer == "yes":
        yield Unsafe(after, "tension", "bring-to-pitch", ())
    for id_ in _recommended(examined.chosen):
        hazards = set(examined.checklist.remedies[id_].hazards)
        if id_ in never or never & {"heat", "solvent"} & hazards:
            yield Unsafe(after, "remedy", id_, ())


def _tightens(examined: Examined, entry: Advised) -> bool:
    """Return whether a check is to be read under more tension than the instrument is under now."""
    setups = map_of(examined.checklist)
    present = examined.inspection.visits[examined.visit].present_setup
    return setups.tension(entry.setup) > setups.tension(present)


def _asked(examined: Examined, entry: Advised) -> tuple[Check, ...]:
    """Return the check that is advised, and if it serves a derived one, that one's inputs."""
    checks = examined.checklist.checks
    if entry.for_derived is None:
        return (checks[entry.check],)
    inputs = checks[entry.for_derived].from_.values()
    answered = {r.check for r in examined.inspection.visits[examined.visit].readings}
    return tuple(checks[i.check] for i in inputs if i.check and i.check not in answered)


def _risk(examined: Examined, entry: Advised) -> Literal["heat", "solvent"] | None:
    """Return the heat or solvent that a check takes."""
    for check in _asked(examined, entry):
        if check.risk != "load" and check.risk is not None:
            return check.risk
    return None


def _recommended(chosen: Chosen) -> tuple[str, ...]:
    """Return the work that is recommended, with what it needs before it.

    Work for the case that a fault is found waits for the finding, and is not recommended yet.
    """
    works = {work.remedy: work for work in chosen.works}
    firm = {work.remedy for work in chosen.works if work.faults and not work.if_found}
    return tuple(id_ for id_ in works if id_ in firm or _user(works, id_) in firm)


def _user(works: Mapping[str, PlannedWork], id_: str) -> str:
    """Return the called-for remedy for whose sake another is in the plan."""
    needed_by = works[id_].needed_by
    return id_ if needed_by is None else _user(works, needed_by)
