"""What an apprentice would do first on an instrument, and whether that is right.

In: a `Drill` as it stands and what was said. Out: `First`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from tailblock.advice.waiting import HOT
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.knowledge.entries import Remedy
    from tailblock.practice.drill import Drill

SLACKEN, TO_PITCH, NOTHING = "slacken", "bring-to-pitch", "nothing"
MOVES = (SLACKEN, TO_PITCH, NOTHING)

Judged = Literal["right", "slacken-first", "unsafe", "unseen", "effect", "beside", "unsaid"]


class NoSuchStep(TailblockError):
    """What to do first is neither a move nor a remedy."""

    def __init__(self, given: str) -> None:
        self.given = given
        super().__init__(f"there is no {given!r} to do (say {', '.join(MOVES)} or a remedy's id)")


@dataclass(frozen=True, slots=True)
class First:
    """What the apprentice would do first, and how that is judged.

    `right`: it mends what is there, and nothing that brought it about is left. `slacken-first`: it
    stands at pitch with what tension could finish. `unsafe`: it would be brought to pitch so.
    `unseen`: heat or solvent for what no look at the bench has shown. `effect`: what brought it
    about is left, and it comes back. `beside`: nothing that is there needs it. `because`: the
    faults that make it so.
    """

    said: str
    judged: Judged
    because: tuple[str, ...] = ()


def judge_first(drill: Drill, said: str) -> First:
    """Return how it is judged what the apprentice would do first.

    Raises
    ------
    NoSuchStep
    """
    checklist, hidden = drill.case.checklist, drill.case.hidden
    remedy = checklist.remedies.get(said)
    if said and remedy is None and said not in MOVES:
        raise NoSuchStep(said)
    dangers = tuple(
        fault
        for fault in checklist.faults
        if fault in hidden.faults and checklist.faults[fault].under_tension == "danger"
    )
    strung = drill.bench.known.situation.at_pitch
    if not said:
        return First(said, "unsaid")
    if said == TO_PITCH:
        open_ = dangers or drill.bench.known.open_danger
        return First(said, "unsafe" if open_ else "beside", open_)
    if said == SLACKEN:
        return First(said, "right" if dangers and strung else "beside", dangers if strung else ())
    if dangers and strung:
        return First(said, "slacken-first", dangers)
    if remedy is not None:
        return _judge_remedy(drill, remedy)
    harmful = tuple(f for f in drill.case.to_find if checklist.faults[f].harm != "none")
    return First(said, "beside" if harmful else "right", harmful)


def _judge_remedy(drill: Drill, remedy: Remedy) -> First:
    checklist, hidden = drill.case.checklist, drill.case.hidden
    mends = [entry.fault for entry in remedy.fixes]
    there = tuple(fault for fault in mends if fault in hidden.faults)
    if not there:
        return First(remedy.id, "beside")
    seen = {fault for check in drill.off_normal for fault in drill.engine.shows[check]}
    if HOT.intersection(remedy.hazards) and not seen.intersection(there):
        return First(remedy.id, "unseen", there)
    mendable = {entry.fault for each in checklist.remedies.values() for entry in each.fixes}
    left = tuple(
        dict.fromkeys(
            cause.fault
            for fault in there
            for cause in checklist.faults[fault].caused_by
            if cause.fault in hidden.faults and cause.fault in mendable.difference(mends)
        )
    )
    return First(remedy.id, "effect" if left else "right", left)
