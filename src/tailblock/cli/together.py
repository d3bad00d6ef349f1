"""`causes --explain`: which faults together explain the readings, and which readings surprise.

In: `Examined`. Out: text, or data for JSON in a shape that is a contract.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice.explanations import Covered, Explanation
    from tailblock.advice.surprise import Surprise
    from tailblock.cli.output import Screen
    from tailblock.pipeline import Examined


def together_data(examined: Examined) -> Mapping[str, Any]:
    """Return the keys that the option adds to the answer in JSON."""
    found, surprises = examined.explanations, examined.surprises
    if found is None or surprises is None:
        return {"explanations": None, "surprises": None}
    return {
        "explanations": {
            "in_question": list(found.in_question),
            "sets": [
                {
                    "faults": list(one.faults),
                    "probability": one.probability,
                    "readings": [
                        {
                            "check": reading.check,
                            "visit": reading.visit + 1,
                            "fault": reading.fault,
                            "bits": reading.bits,
                        }
                        for reading in one.readings
                    ],
                }
                for one in found.sets
            ],
        },
        "surprises": [
            {"check": one.check, "visit": one.visit + 1, "bits": one.bits, "named": one.named}
            for one in surprises
        ],
    }


def show_together(screen: Screen, examined: Examined) -> None:
    """Print the leading explanation, the next ones by what differs, and what surprises."""
    from tailblock.report.sentences import NOT_TOGETHER
    from tailblock.report.wording import percent

    found, surprises = examined.explanations, examined.surprises
    screen.say()
    if found is None or surprises is None:
        screen.say(NOT_TOGETHER)
        return
    if not found.sets:
        screen.say("No reading is off normal, so there is nothing to explain.")
    for number, one in enumerate(found.sets):
        if number == 0:
            screen.say(f"Together, with {percent(one.probability)}:", "title")
            _show_first(screen, examined, one)
        else:
            differs = _differs(examined, found.sets[0], one)
            screen.say(f"Or, with {percent(one.probability)}: {differs}.")
    _show_surprises(screen, examined, surprises)


def _show_first(screen: Screen, examined: Examined, one: Explanation) -> None:
    for fault in one.faults:
        covered = [reading for reading in one.readings if reading.fault == fault]
        screen.say(f"{examined.checklist.faults[fault].name} ({fault})", indent=2)
        if covered:
            screen.say(f"covers {_named(examined, covered)}", "quiet", indent=4)
    if not one.faults:
        screen.say("none of the faults in question", indent=2)
    if one.uncovered:
        screen.say(f"Covered by none of them: {_named(examined, one.uncovered)}", indent=2)


def _named(examined: Examined, readings: Sequence[Covered]) -> str:
    return "; ".join(_title(examined, reading.check, reading.visit) for reading in readings)


def _title(examined: Examined, check: str, visit: int) -> str:
    several = f", visit {visit + 1}" if examined.visit else ""
    return f"{examined.checklist.checks[check].title}{several}"


def _differs(examined: Examined, first: Explanation, other: Explanation) -> str:
    faults = examined.checklist.faults
    added = [faults[id_].name for id_ in other.faults if id_ not in first.faults]
    left_out = [faults[id_].name for id_ in first.faults if id_ not in other.faults]
    said = [f"also {'; '.join(added)}"] if added else []
    said += [f"without {'; '.join(left_out)}"] if left_out else []
    return "; ".join(said)


def _show_surprises(screen: Screen, examined: Examined, surprises: Sequence[Surprise]) -> None:
    limit = examined.checklist.limits.surprise_bits
    named = [one for one in surprises if one.named]
    if not named:
        screen.say(f"No reading surprises by more than {limit:g} bits, given all others.", "quiet")
    for one in named:
        title = _title(examined, one.check, one.visit)
        screen.say(f"Surprising, so read it again: {title} ({one.bits:.1f} bits)")
