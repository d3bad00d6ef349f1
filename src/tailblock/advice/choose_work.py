"""Which remedies are offered, for which faults, in which order: the best cure, access counted once.

In: the checklist, the traits, the causes as they stand, what was looked at. Out: `Chosen`: the
remedies in working order, each in the option that it belongs to. Nothing here decides for the
player, and no chance after the work is known yet.

Work waits for findings, causes and looks (see `waiting`).

A fault calls for work from a stated probability on. For each the best cure is taken; of those that
are about as good, the one that takes the fewest hours more than what is done anyway: a neck that is
off is taken off once. What a chosen remedy needs first comes with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from tailblock.advice.ranking import RAISED, found, weight
from tailblock.advice.returning import meant_for, remedies_for
from tailblock.advice.waiting import FIRM, IF_FOUND, Waiting
from tailblock.advice.work_order import access, working_order

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tailblock.advice.results import CauseBelief
    from tailblock.advice.work_order import State
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Remedy

Kind = Literal["to-string", "to-play", "while-open"]

# Two cures this near in how well they cure are about as good, as `almost-always` and `usually` are:
# the smaller work is done first, and what it leaves is seen.
AS_GOOD = 0.16
KINDS: tuple[Kind, ...] = ("to-string", "to-play", "while-open")
WORKING = ("safe", "lasting", "playable", "improve")  # set-up work is not thrown away
MINUTES = 60.0


@dataclass(frozen=True, slots=True)
class PlannedWork:
    """A remedy in its place.

    `faults` call for it, the most probable first: none for what only other work needs, which is
    then `needed_by`. `if_found`: it waits until one of them is found. `needs`: the remedies that
    must be done first. `instead`: other cures of the same faults, the best first. `access`: what
    must be opened for it alone, with its minutes; `shared`: what other work of this option or of
    one before it opens anyway. `ahead_of`: work of an earlier option that waits for this if both
    are done. `waits_for`: faults that are mended first, and the instrument looked at again;
    `look_for`: faults that have to be looked for first.
    """

    remedy: str
    kind: Kind
    faults: tuple[str, ...]
    if_found: bool
    needed_by: str | None
    needs: tuple[str, ...]
    instead: tuple[str, ...]
    access: Mapping[State, float]
    shared: tuple[State, ...]
    ahead_of: tuple[str, ...]
    waits_for: tuple[str, ...] = ()
    look_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Chosen:
    """The work that is offered, in working order within each option.

    `calling`: the faults that call for work, the most probable first; `uncured`: those for which
    there is none.
    """

    works: tuple[PlannedWork, ...]
    calling: Mapping[str, CauseBelief]
    uncured: tuple[str, ...]

    def of(self, *kinds: Kind) -> tuple[PlannedWork, ...]:
        """Return the work of some options."""
        return tuple(work for work in self.works if work.kind in kinds)

    @property
    def firm(self) -> tuple[str, ...]:
        """Return the remedies that do not wait for a finding."""
        return tuple(work.remedy for work in self.works if not work.if_found)


def calls(cause: CauseBelief, looked_at: Collection[str]) -> bool:
    """Return whether a fault is likely enough, by readings, to call for work."""
    if cause.harm == "none" or not found(cause, looked_at):
        return False
    raised = cause.decibans >= RAISED and cause.harm != "cosmetic"
    return cause.probability >= FIRM or (cause.probability >= IF_FOUND and raised)


def choose_work(
    checklist: Checklist,
    traits: Mapping[str, str],
    causes: Sequence[CauseBelief],
    looked_at: Collection[str],
    seen_at_bench: Collection[str],
    *,
    explained: Mapping[str, Sequence[str]],
    in_reach: Collection[str],
) -> Chosen:
    """Return the work to offer.

    Parameters
    ----------
    causes
        All faults that apply, the most probable first.
    looked_at, seen_at_bench
        The faults that an answered check shows, and those of them that a check at the bench does.
    explained
        Fault -> the causes of it that explain it where both are there.
    in_reach
        The faults that a look at the bench could settle now.
    """
    calling = {cause.id: cause for cause in causes if calls(cause, looked_at)}
    standing = {cause.id: cause for cause in causes}
    waiting = Waiting(checklist, traits, standing, seen_at_bench, explained, in_reach)
    choice = _Choice(checklist, traits, calling, waiting)
    for kind in KINDS:
        for fault in sorted(calling, key=choice.urge, reverse=True):
            if choice.kind_of(fault) == kind:
                choice.cure(fault, kind)
    return Chosen(tuple(choice.works()), calling, tuple(choice.uncured))


@dataclass
class _Choice:
    """What has been chosen so far."""

    checklist: Checklist
    traits: Mapping[str, str]
    calling: Mapping[str, CauseBelief]
    waiting: Waiting
    kinds: dict[str, Kind] = field(default_factory=dict)  # remedy -> the option that it came with
    needed_by: dict[str, str] = field(default_factory=dict)
    uncured: list[str] = field(default_factory=list)
    cures: dict[str, list[str]] = field(default_factory=dict)  # remedy -> what it was taken for

    def urge(self, fault: str) -> tuple[bool, float]:
        """Return what comes first: firm before if found, then weight times probability."""
        cause = self.calling[fault]
        worth = weight(self.checklist.faults[fault], self.checklist.limits) * cause.probability
        return cause.probability >= FIRM, worth

    def kind_of(self, fault: str) -> Kind:
        """Return the option that a fault belongs to."""
        entry, likely = self.checklist.faults[fault], self.waiting.found_at_bench(fault, FIRM)
        moving = entry.under_tension == "watch" and entry.pace in {"weeks", "any-moment"}
        if entry.under_tension == "danger" or (moving and likely):
            return "to-string"
        if entry.harm == "cosmetic" or (not likely and self._is_open_for(fault)):
            return "while-open"
        return "to-play"

    def cure(self, fault: str, kind: Kind) -> None:
        """Take the best cure of a fault, unless one as good is done anyway."""
        ways = remedies_for(self.checklist, self.traits, fault)
        if not ways:
            self.uncured.append(fault)
            return
        # of two ways that do the same again, one is enough
        ways = tuple(w for w in ways if w.id in self.kinds or not self._again(w, fault)) or ways
        best = max(_how_well(remedy, fault) for remedy in ways)
        good = [remedy for remedy in ways if _how_well(remedy, fault) >= best - AS_GOOD]
        chosen = min(good, key=lambda r: (self._more_hours(r), -_how_well(r, fault)))
        self._take(chosen, kind)
        self.cures.setdefault(chosen.id, []).append(fault)

    def works(self) -> Iterator[PlannedWork]:
        """Yield the work by option, in working order within each."""
        order = list(self._in_order())
        paid: set[State] = set()
        for id_ in sorted(order, key=lambda id_: KINDS.index(self.kinds[id_])):
            remedy = self.checklist.remedies[id_]
            faults = self._faults_of(remedy)
            wanted = access(self.checklist, remedy)
            open_ = paid | self._opens_up_to(id_)
            cured = self.cures.get(id_, ())  # for the others smaller work is done
            firm = any(self.waiting.firm(remedy, fault) for fault in cured)
            likely = (
                [] if firm else [fault for fault in cured if self.waiting.likely(remedy, fault)]
            )
            yield PlannedWork(
                remedy=id_,
                kind=self.kinds[id_],
                faults=faults,
                if_found=bool(faults) and not firm,
                needed_by=None if faults else self.needed_by.get(id_),
                needs=remedy.needs.remedies,
                instead=self._instead(remedy, faults),
                access={state: cost for state, cost in wanted.items() if state not in open_},
                shared=tuple(state for state in wanted if state in open_),
                ahead_of=tuple(
                    later
                    for later in order[order.index(id_) + 1 :]
                    if KINDS.index(self.kinds[later]) < KINDS.index(self.kinds[id_])
                    and self._waits_for(later, remedy, wanted)
                ),
                waits_for=_each(self.waiting.first_mended(remedy, fault) for fault in likely),
                look_for=_each(self.waiting.to_look_for(remedy, fault) for fault in likely),
            )
            paid.update(wanted)

    def _opens_up_to(self, id_: str) -> set[State]:
        """Return what other work of the same option, or of one before it, opens by itself."""
        last = KINDS.index(self.kinds[id_])
        return {
            state
            for other, kind in self.kinds.items()
            if other != id_ and KINDS.index(kind) <= last
            for state in self.checklist.remedies[other].opens.items()
        }

    def _waits_for(self, later: str, remedy: Remedy, wanted: Mapping[State, float]) -> bool:
        """Return whether work waits for other work: on its cause, or inside what it shuts."""
        work = self.checklist.remedies[later]
        shuts = set(wanted).intersection(work.opens.items())
        return bool(shuts) or remedy.id in self._causes_of(work, {remedy.id: remedy})

    def _take(self, remedy: Remedy, kind: Kind) -> None:
        for id_ in remedy.needs.remedies:
            self.needed_by.setdefault(id_, remedy.id)
            self._take(self.checklist.remedies[id_], kind)
        self.kinds.setdefault(remedy.id, kind)

    def _more_hours(self, remedy: Remedy) -> float:
        """Return the hours that a remedy adds, with what it needs and what must be opened."""
        if remedy.id in self.kinds:
            return 0.0
        opened = self._opened()
        wanted = access(self.checklist, remedy).items()
        hours = remedy.hours.likely
        hours += sum(cost for state, cost in wanted if state not in opened) / MINUTES
        return hours + sum(
            self._more_hours(self.checklist.remedies[id_]) for id_ in remedy.needs.remedies
        )

    def _again(self, remedy: Remedy, fault: str) -> bool:
        """Return whether chosen work already cures something besides that a remedy is meant for."""
        chosen = [self.checklist.remedies[id_] for id_ in self.kinds]
        cured = {fault for one in chosen for fault in self._faults_of(one)}
        return not (meant_for(remedy) - {fault}).isdisjoint(cured)

    def _opened(self) -> set[State]:
        chosen = [self.checklist.remedies[id_] for id_ in self.kinds]
        opens = {state for remedy in chosen for state in remedy.opens.items()}
        return opens.union(*(access(self.checklist, remedy) for remedy in chosen))

    def _is_open_for(self, fault: str) -> bool:
        """Return whether some cure of a fault goes where the chosen work has opened up."""
        opened = self._opened()
        ways = remedies_for(self.checklist, self.traits, fault)
        return any(opened.intersection(access(self.checklist, way)) for way in ways)

    def _in_order(self) -> Iterator[str]:
        remedies = {id_: self.checklist.remedies[id_] for id_ in self.kinds}
        causes = {id_: self._causes_of(remedy, remedies) for id_, remedy in remedies.items()}
        return working_order(self.checklist, remedies, causes, self._place)

    def _causes_of(self, remedy: Remedy, remedies: Mapping[str, Remedy]) -> tuple[str, ...]:
        """Return the chosen work on what brings about the faults of this one: it comes before."""
        faults = self._faults_of(remedy)
        causes = {cause.fault for f in faults for cause in self.checklist.faults[f].caused_by}
        return tuple(
            other.id
            for other in remedies.values()
            if causes.difference(faults).intersection(self._faults_of(other))
        )

    def _place(self, id_: str) -> tuple[int, int, bool, int]:
        """Return where work stands among what could be done next."""
        remedy = self.checklist.remedies[id_]
        return (
            KINDS.index(self.kinds[id_]),
            WORKING.index(remedy.stage),
            not access(self.checklist, remedy),
            list(self.kinds).index(id_),
        )

    def _faults_of(self, remedy: Remedy) -> tuple[str, ...]:
        meant = meant_for(remedy)
        return tuple(fault for fault in self.calling if fault in meant)

    def _instead(self, remedy: Remedy, faults: Sequence[str]) -> tuple[str, ...]:
        others = {
            other.id: max(_how_well(other, fault) for fault in faults)
            for fault in faults
            for other in remedies_for(self.checklist, self.traits, fault)
            if other.id != remedy.id
            and remedy.id not in other.needs.remedies
            and other.id not in remedy.needs.remedies
        }
        return tuple(sorted(others, key=lambda id_: -others[id_]))


def _how_well(remedy: Remedy, fault: str) -> float:
    return max((fix.how_well for fix in remedy.fixes if fix.fault == fault), default=0.0)


def _each(named: Iterable[Sequence[str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for some in named for one in some))
