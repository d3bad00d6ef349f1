"""What the entries of a checklist name, with the path of each naming in its entry.

In: a checklist. Out: links to other entries, conditions on traits, and states of the setup, for the
rules to judge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Condition, Remedy

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in an entry."""

    kind: str
    entry: str
    path: Path = ()

    def below(self, *path: str | int) -> Spot:
        """Return a place further down in the same entry."""
        return Spot(self.kind, self.entry, (*self.path, *path))


@dataclass(frozen=True, slots=True)
class Link:
    """An id that an entry names, and the kinds of entry that it may be."""

    spot: Spot
    named: str
    wanted: tuple[str, ...]


def found(
    checklist: Checklist,
    rule: str,
    spot: Spot,
    message: str,
    mend: str = "",
    *,
    severity: Literal["error", "warning"] = "error",
) -> Problem:
    """Return a problem at a spot."""
    place = checklist.places.within(spot.kind, spot.entry, *spot.path)
    return Problem(*place, spot.entry, rule, message, mend, severity)


def links(checklist: Checklist) -> Iterator[Link]:
    """Yield every id that an entry names."""
    for node in checklist.nodes():
        spot = Spot("fault" if node.id in checklist.faults else "symptom", node.id)
        yield Link(spot.below("part"), node.part, ("part",))
        for i, cause in enumerate(node.caused_by):
            yield Link(spot.below("caused_by", i, "fault"), cause.fault, ("fault",))
    for fault in checklist.faults.values():
        yield from _each(Spot("fault", fault.id), "rivals", fault.rivals, "fault")
    for check in checklist.checks.values():
        yield from _of_check(Spot("check", check.id), check)
    for family in checklist.families.values():
        yield from _each(Spot("family", family.id), "checks", family.checks, "check")
    for remedy in checklist.remedies.values():
        yield from _of_remedy(Spot("remedy", remedy.id), remedy)
    for stage in checklist.stages.values():
        yield from _each(Spot("stage", stage.id), "opening", stage.opening, "check")
        yield from _each(Spot("stage", stage.id), "on_each_step", stage.on_each_step, "check")
    for length in checklist.geometry.values():
        yield Link(Spot("length", length.id, ("check",)), length.check, ("check",))
    for sum_ in checklist.arithmetic.values():
        yield from _each(Spot("sum", sum_.id), "remedies", sum_.remedies, "remedy")
    for kind, entries in _with_sources(checklist).items():
        for entry, sources in entries.items():
            yield from _each(Spot(kind, entry), "sources", sources, "source")


def _of_check(spot: Spot, check: Check) -> Iterator[Link]:
    yield Link(spot.below("part"), check.part, ("part",))
    yield from _each(spot, "stages", check.stages, "stage")
    yield from _each(spot, "cautions", check.cautions, "caution")
    for i, link in enumerate(check.shows):
        kind = "fault" if link.fault else "symptom"
        yield Link(spot.below("shows", i, kind), link.target, (kind,))
    for i, gate in enumerate(check.gate):
        for j, named in enumerate(gate.of):
            yield Link(spot.below("gate", i, "of", j), named, ("check", "quantity"))
    if check.follows:
        yield Link(spot.below("follows", "check"), check.follows.check, ("check",))
    for name, given in check.from_.items():
        if given.check:
            yield Link(spot.below("from", name, "check"), given.check, ("check",))


def _of_remedy(spot: Spot, remedy: Remedy) -> Iterator[Link]:
    yield Link(spot.below("part"), remedy.part, ("part",))
    for name, faults in (
        ("fixes", [item.fault for item in remedy.fixes]),
        ("may_reveal", [item.fault for item in remedy.may_reveal]),
        ("may_leave", [item.fault for item in remedy.may_leave]),
    ):
        for i, fault in enumerate(faults):
            yield Link(spot.below(name, i, "fault"), fault, ("fault",))
    for i, watch in enumerate(remedy.watch):
        yield Link(spot.below("watch", i, "check"), watch.check, ("check",))
    yield from _each(spot.below("needs"), "remedies", remedy.needs.remedies, "remedy")
    yield from _each(spot, "waits_for", remedy.waits_for, "fault")
    yield from _each(spot, "cautions", remedy.cautions, "caution")


def _each(spot: Spot, name: str, ids: tuple[str, ...], kind: str) -> Iterator[Link]:
    for i, named in enumerate(ids):
        yield Link(spot.below(name, i), named, (kind,))


def _with_sources(checklist: Checklist) -> dict[str, dict[str, tuple[str, ...]]]:
    return {
        "fault": {fault.id: fault.sources for fault in checklist.faults.values()},
        "symptom": {symptom.id: symptom.sources for symptom in checklist.symptoms.values()},
        "check": {check.id: check.sources for check in checklist.checks.values()},
        "remedy": {remedy.id: remedy.sources for remedy in checklist.remedies.values()},
        "caution": {caution.id: caution.sources for caution in checklist.cautions.values()},
    }


def sourced(checklist: Checklist) -> Iterator[tuple[Spot, tuple[str, ...]]]:
    """Yield every entry that rests on sources, and those it names."""
    for kind, entries in _with_sources(checklist).items():
        for entry, sources in entries.items():
            yield Spot(kind, entry), sources


def conditions(checklist: Checklist) -> Iterator[tuple[Spot, Condition]]:
    """Yield every condition on traits."""
    for node in checklist.nodes():
        spot = Spot("fault" if node.id in checklist.faults else "symptom", node.id)
        yield spot.below("applies_when"), node.applies_when
        for i, rule in enumerate(node.alone_when):
            yield spot.below("alone_when", i, "when"), rule.when
        for i, cause in enumerate(node.caused_by):
            yield spot.below("caused_by", i, "when"), cause.when
    for check in checklist.checks.values():
        spot = Spot("check", check.id)
        yield spot.below("applies_when"), check.applies_when
        for i, link in enumerate(check.shows):
            yield spot.below("shows", i, "when"), link.when
        for i, limits in enumerate(check.measure.limits_when if check.measure else ()):
            yield spot.below("measure", "limits_when", i, "when"), limits.when
    for remedy in checklist.remedies.values():
        yield Spot("remedy", remedy.id, ("applies_when",)), remedy.applies_when


def setups(checklist: Checklist) -> Iterator[tuple[Spot, Mapping[str, tuple[str, ...]]]]:
    """Yield every demand on the setup, and both ends of every move."""
    for check in checklist.checks.values():
        yield Spot("check", check.id, ("setup",)), check.setup
        for name, given in check.from_.items():
            yield Spot("check", check.id, ("from", name, "setup")), given.setup
    for remedy in checklist.remedies.values():
        yield Spot("remedy", remedy.id, ("needs", "setup")), remedy.needs.setup
        opens = {dimension: (state,) for dimension, state in remedy.opens.items()}
        yield Spot("remedy", remedy.id, ("opens",)), opens
    for i, move in enumerate(checklist.setups.moves):
        for name, states in (("from", move.from_), ("to", move.to)):
            spot = Spot("checklist", checklist.id, ("setups", "moves", i, name))
            yield spot, {dimension: (state,) for dimension, state in states.items()}
