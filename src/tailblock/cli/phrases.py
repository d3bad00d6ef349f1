"""The sentences of the screens: chances, setups, held-back moves, what an answer moved.

In: ids and numbers from the stages below, and the checklist for names. Out: short texts.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.knowledge.levels import edges_of, levels_of_limits
from tailblock.knowledge.traits import limits_for
from tailblock.measures import Quantity, show
from tailblock.report.sentences import REACH
from tailblock.report.wording import listed, listed_some, minutes, percent, setup_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice import HeldBack, Settling
    from tailblock.advice.results import Phase
    from tailblock.cli.moved import Moved
    from tailblock.inspection.record import Answer, Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Limits, Measure
    from tailblock.pipeline import Examined

# Where a second inspection stands.
PHASES: Mapping[Phase, str] = MappingProxyType(
    {
        "slacken": "Second inspection: slacken first.",
        "before-strings": "Second inspection, 1 of 4: before a string moves.",
        "tension": "Second inspection, 2 of 4: tension in steps; any change for the worse means "
        "slacken.",
        "again": "Second inspection: the same checks, setup and place as before.",
        "must-read": "Second inspection, 3 of 4: what must be read.",
        "gain": "Second inspection, 4 of 4: what tells most.",
    }
)
NAMED = 3  # checks in a sentence
FEW = 2  # changes that a person takes in after an answer


def change_text(before: Setup, after: Setup, cost: float) -> str:
    """Write what has to be changed for a check, or nothing: `strings from off to slack (8 min)`."""
    changes = [
        f"{name} from {before[name].replace('-', ' ')} to {state.replace('-', ' ')}"
        for name, state in after.items()
        if before.get(name, state) != state
    ]
    return f"{listed(changes)} ({minutes(cost)})" if changes else ""


def check_text(check: str, checklist: Checklist) -> str:
    """Write a check for a person: its title and the id to type."""
    entry = checklist.checks.get(check)
    return f"{entry.title} ({check})" if entry else check


def normal_text(check: Check, traits: Mapping[str, str], checklist: Checklist) -> str:
    """Write the normal band of a measurement in both systems, for the likeliest of its limits."""
    if check.measure is None:
        return ""
    by_weight = sorted(limits_for(check, traits, checklist), key=lambda entry: -entry.weight)
    first = _band(by_weight[0].limits, check.measure)
    return first if len(by_weight) == 1 else f"{first} (most likely; it depends on a trait unknown)"


def _band(limits: Limits, measure: Measure) -> str:
    edges = edges_of(limits, measure).values
    normal = levels_of_limits(limits).normal
    low = _edge(edges[normal - 1], measure) if normal > 0 else ""
    high = _edge(edges[normal], measure) if normal < len(edges) else ""
    if low and high:
        return f"{low} to {high}"
    return f"{low} or more" if low else f"up to {high}"


def _edge(value: float, measure: Measure) -> str:
    return show(Quantity(value, measure.quantity))


def answer_text(check: Check, written: str, answer: Answer) -> str:
    """Write what an answer was taken for."""
    if answer.unknown:
        return "unknown"
    if answer.value is None or check.measure is None:
        return answer.level or written
    if check.measure.quantity == "count":
        return written
    shown = show(Quantity(answer.value, check.measure.quantity))
    assumed = f" (taken as {written} {answer.assumed_unit})" if answer.assumed_unit else ""
    return f"{written}{assumed} = {shown}"


def danger_lines(moved: Moved, examined: Examined) -> tuple[str, ...]:
    """Write what must not be done, or may be done again, since the last answer."""
    lines = [*slacken_lines(moved.slacken_now, examined), *sign_lines(examined)]
    lines.extend(held_lines(moved.held_back, examined))
    if moved.let_go:
        let_go = listed([_what(held, examined.checklist) for held in moved.let_go])
        lines.append(f"No longer held back: {let_go}.")
    return tuple(lines)


def slacken_lines(faults: Sequence[str], examined: Examined) -> tuple[str, ...]:
    """Write the line that comes before everything else."""
    return (f"Slacken the strings now: {_because(faults, examined)}.",) if faults else ()


def sign_lines(examined: Examined) -> tuple[str, ...]:
    """Write what looks worse with more tension on it: that means slacken."""
    tension = examined.checklist.setups.tension
    return tuple(
        f"Slacken the strings now: {check_text(sign.check, examined.checklist)} shows "
        f"{sign.now.replace('-', ' ')} with the {tension} {sign.state.replace('-', ' ')}, and "
        f"{sign.before.replace('-', ' ')} before."
        for sign in examined.advice.signs
    )


def held_lines(held_back: Sequence[HeldBack], examined: Examined) -> tuple[str, ...]:
    """Write held-back moves, those that the same faults hold in one line."""
    groups: dict[tuple[tuple[str, ...], tuple[str, ...]], list[HeldBack]] = {}
    for held in held_back:
        groups.setdefault((held.because, held.clear_with), []).append(held)
    return tuple(
        f"{_held(group, because, examined)} {_clearing(group[0], examined)}"
        for (because, _), group in groups.items()
    )


def held_rule(checklist: Checklist) -> str:
    """Write why a move is held back, and what lifts that."""
    return (
        f"A move is held back while a danger under tension stands above "
        f"{percent(checklist.limits.danger)}, each by itself. A look that brings it below lifts "
        "this; a person may go on against it (`tailblock accept`)."
    )


def stop_rule(examined: Examined) -> str:
    """Write when it is enough, and how far from that the best look is."""
    stop = examined.checklist.limits.stop_bits_per_minute
    best = examined.advice.best_rate
    told = f"the best now brings {best:.2g}"
    if best < stop:
        told = f"{told}, but a danger can still be cleared"
    return (
        f"It is enough once no look brings {stop:g} bits a minute and none could clear a danger; "
        f"{told}."
    )


def moved_lines(moved: Moved, examined: Examined) -> tuple[str, ...]:
    """Write the largest changes, in one line."""
    if not moved.shifts and examined.beliefs.approximate:
        return ("It moved nothing by more than the error.",)
    if not moved.shifts:
        return ("It moved nothing.",)
    shifts = [
        f"{shift.name} {percent(shift.before)} to {percent(shift.after)}"
        for shift in moved.shifts[:FEW]
    ]
    return (f"It moved {'; '.join(shifts)}.",)


def _held(group: Sequence[HeldBack], because: Sequence[str], examined: Examined) -> str:
    """Say which moves are held back because of some faults."""
    checklist = examined.checklist
    tension, pitch = checklist.setups.tension, checklist.setups.pitch
    states = [held.setup[tension] for held in group if held.setup is not None]
    lower = [state.replace("-", " ") for state in states if state != pitch]
    orders = ["bring it to pitch"] if pitch in states else []
    if lower:
        orders.append(f"{'' if orders else 'bring it '}up to {listed(lower, 'or')}")
    checks = [check_text(held.check, checklist) for held in group if held.check]
    why = _because(because, examined)
    if not orders:
        return f"Do not load it by {listed(checks, 'or')}: {why}."
    also = f" Nor load it by {listed(checks, 'or')}." if checks else ""
    return f"Do not {', nor '.join(orders)}: {why}.{also}"


def _what(held: HeldBack, checklist: Checklist) -> str:
    return setup_words(held.setup) if held.setup else check_text(held.check or "", checklist)


def settling_text(settles: Settling, checklist: Checklist) -> str:
    """Write which check would settle a fault, and when it can be done."""
    return f"{check_text(settles.check, checklist)}; {REACH[settles.reach]}"


def _because(faults: Sequence[str], examined: Examined) -> str:
    chance = {cause.id: cause.probability for cause in examined.causes}
    names = examined.checklist.faults
    return "; ".join(f"{names[fault].name} ({percent(chance[fault])})" for fault in faults)


def _clearing(held: HeldBack, examined: Examined) -> str:
    if not held.clear_with:
        return "Looking cannot clear this."
    named = [check_text(check, examined.checklist) for check in held.clear_with]
    told = f"What would clear it: {listed_some(named, NAMED)}."
    if held.no_look:
        told = f"{told} No look can clear it: {_because(held.no_look, examined)}."
    return told
