"""What an answer moved: the difference between two examinations of one inspection.

In: `Examined` before and after. Out: `Moved`. Nothing is computed here but differences.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Any

from tailblock.cli.exactness import exactness_data

if TYPE_CHECKING:
    from tailblock.advice import HeldBack
    from tailblock.pipeline import Examined

LEAST = 0.005  # a change that rounds to no per cent is none to a person


@dataclass(frozen=True, slots=True)
class Shift:
    """A fault whose probability has changed."""

    fault: str
    name: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class Moved:
    """What changed, the largest change first.

    `held_back` is held now and was not before; `let_go` was held before and is not now;
    `slacken_now` are the faults that demand it now and did not before.
    """

    shifts: tuple[Shift, ...]
    held_back: tuple[HeldBack, ...]
    let_go: tuple[HeldBack, ...]
    slacken_now: tuple[str, ...]


def compare(before: Examined, after: Examined) -> Moved:
    """Return what is different after an answer.

    Where probabilities are sampled a change counts once it stands out of the errors of both.
    """
    least = max(LEAST, hypot(before.beliefs.error or 0.0, after.beliefs.error or 0.0))
    was = {cause.id: cause.probability for cause in before.causes}
    shifts = [
        Shift(cause.id, cause.name, was[cause.id], cause.probability)
        for cause in after.causes
        if cause.id in was and abs(cause.probability - was[cause.id]) >= least
    ]
    held = {_move(entry): entry for entry in in_force(before)}
    holds = {_move(entry): entry for entry in in_force(after)}
    return Moved(
        shifts=tuple(sorted(shifts, key=lambda shift: -abs(shift.after - shift.before))),
        held_back=tuple(entry for move, entry in holds.items() if move not in held),
        let_go=tuple(entry for move, entry in held.items() if move not in holds),
        slacken_now=tuple(
            fault for fault in after.advice.slacken_now if fault not in before.advice.slacken_now
        ),
    )


def in_force(examined: Examined) -> tuple[HeldBack, ...]:
    """Return the moves that are held back and that nobody has taken upon themselves."""
    return tuple(held for held in examined.advice.held_back if not held.accepted)


def moved_data(moved: Moved, examined: Examined) -> dict[str, Any]:
    """Return what moved and what must not be done now, as plain data."""
    return {
        "moved": [
            {"id": shift.fault, "name": shift.name, "before": shift.before, "after": shift.after}
            for shift in moved.shifts
        ],
        "held_back": [held_data(held) for held in in_force(examined)],
        "slacken_now": list(examined.advice.slacken_now),
        **exactness_data(examined),
    }


def held_data(held: HeldBack) -> dict[str, Any]:
    """Return a held-back move as plain data."""
    move = {"check": held.check} if held.setup is None else {"setup": dict(held.setup)}
    return {**move, "because": list(held.because), "clear_with": list(held.clear_with)}


def _move(held: HeldBack) -> tuple[str, ...]:
    return tuple(f"{name} {state}" for name, state in (held.setup or {}).items()) or (
        held.check or "",
    )
