"""What came of a drill: found and missed, what it cost against the advice, and what misled.

In: a `Drill`, the faults that the apprentice names, what they would do first. Out: `Debrief`.

The score is a regret, measured on the same instrument against the advised order from the same
start: how many more bits the beliefs are from the truth after as many minutes, and how many minutes
later they are as near. Below zero the apprentice was ahead. What was named does not enter it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.knowledge.graph import NotInTheChecklist
from tailblock.practice.first_step import judge_first
from tailblock.practice.reference import Reference

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.practice.drill import Choice, Drill
    from tailblock.practice.first_step import First
    from tailblock.practice.unsafe import Unsafe

Misleading = Literal["pointed-to", "hid"]


@dataclass(frozen=True, slots=True)
class Trap:
    """A check whose answer misled: it pointed to a fault that is not there, or hid one that is."""

    check: str
    how: Misleading
    fault: str


@dataclass(frozen=True, slots=True)
class Debrief:
    """A drill looked back on.

    `besides`: named and there, though not asked for. `mistaken`: pairs of a fault that was named
    and the harmless thing that it was. `bits`: how far the beliefs are from the truth at the end;
    `same_minutes`: how far the advice leaves them after as many minutes; `as_near`: the minutes
    after which the advice had come as near, None if it had not by then. `unexplained`: answers off
    normal that nothing named explains. `silent`: checks whose answers did not count.
    """

    to_find: tuple[str, ...]
    named: tuple[str, ...]
    found: tuple[str, ...]
    missed: tuple[str, ...]
    wrong: tuple[str, ...]
    besides: tuple[str, ...]
    mistaken: tuple[tuple[str, str], ...]
    first: First
    minutes: float
    bits: float
    same_minutes: float
    as_near: float | None
    advice_did: tuple[str, ...]
    choices: tuple[Choice, ...]
    traps: tuple[Trap, ...]
    unexplained: tuple[str, ...]
    silent: tuple[str, ...]
    unsafe: tuple[Unsafe, ...]
    hints: int

    @property
    def regret_bits(self) -> float:
        """Return how many bits farther from the truth it is than the advice after as long."""
        return self.bits - self.same_minutes

    @property
    def regret_minutes(self) -> float | None:
        """Return how many minutes later it is as near, None if the advice was not by then."""
        return None if self.as_near is None else self.minutes - self.as_near

    @property
    def forgone(self) -> tuple[Choice, ...]:
        """Return the choices in whose minutes another check would have told more, worst first."""
        costly = [choice for choice in self.choices if choice.forgone > 0.0]
        return tuple(sorted(costly, key=lambda choice: -choice.forgone))


def debrief(drill: Drill, named: Sequence[str], first: str = "") -> Debrief:
    """Look back on a drill.

    Parameters
    ----------
    named
        Ids of the faults that the apprentice says are there.
    first
        One of `MOVES`, the id of a remedy, or nothing.

    Raises
    ------
    NotInTheChecklist
        A fault that there is not.
    NoSuchStep
    """
    checklist, hidden = drill.case.checklist, drill.case.hidden
    said = known_faults(checklist, named)
    first_of_all = judge_first(drill, first)
    to_find = drill.case.to_find
    wrong = tuple(fault for fault in said if fault not in hidden.faults)
    missed = tuple(fault for fault in to_find if fault not in said)
    bits = drill.bench.known.missing(hidden.faults)
    reference = Reference(drill.case, drill.engine)
    course = reference.within(drill.minutes)
    return Debrief(
        to_find=to_find,
        named=said,
        found=tuple(fault for fault in to_find if fault in said),
        missed=missed,
        wrong=wrong,
        besides=tuple(f for f in said if f in hidden.faults and f not in to_find),
        mistaken=tuple(_mistaken(drill, wrong)),
        first=first_of_all,
        minutes=drill.minutes,
        bits=bits,
        same_minutes=course[-1].missing,
        as_near=reference.as_near(bits, drill.minutes),
        advice_did=tuple(each.check for each in course[1:]),
        choices=tuple(drill.choices),
        traps=(*_traps(drill, wrong, "pointed-to"), *_traps(drill, missed, "hid")),
        unexplained=tuple(_unexplained(drill, said)),
        silent=tuple(c for c in drill.read if c in drill.bench.known.situation.gated),
        unsafe=tuple(drill.unsafe),
        hints=drill.hints,
    )


def known_faults(checklist: Checklist, named: Sequence[str]) -> tuple[str, ...]:
    """Return faults that were named, each once.

    Raises
    ------
    NotInTheChecklist
    """
    for fault in named:
        if fault not in checklist.faults:
            raise NotInTheChecklist("fault", fault, checklist, checklist.faults)
    return tuple(dict.fromkeys(named))


def _mistaken(drill: Drill, wrong: Collection[str]) -> Iterator[tuple[str, str]]:
    """Yield what was named, with the harmless thing there that imitates it."""
    for id_, fault in drill.case.checklist.faults.items():
        if fault.harm == "none" and id_ in drill.case.hidden.faults:
            yield from ((rival, id_) for rival in fault.rivals if rival in wrong)


def _traps(drill: Drill, faults: Collection[str], how: Misleading) -> Iterator[Trap]:
    """Yield the checks with a trap that were answered against the truth about some faults."""
    abnormal = set(drill.off_normal)
    for fault in faults:
        for name in drill.read:
            shows = fault in drill.engine.shows[name]
            misled = (name in abnormal) == (how == "pointed-to")
            if shows and misled and drill.case.checklist.checks[name].trap:
                yield Trap(name, how, fault)


def _unexplained(drill: Drill, named: Collection[str]) -> Iterator[str]:
    """Yield answers off normal that show a fault, and none that was named."""
    for name in drill.off_normal:
        shows = drill.engine.shows[name]
        if shows and shows.isdisjoint(named):
            yield name
