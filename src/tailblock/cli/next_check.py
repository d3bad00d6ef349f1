"""`next`: what to look at next, what not to do yet, and when it is enough.

In: an inspection file. Out: text, or JSON in a shape that is a contract.
"""

from __future__ import annotations

from dataclasses import asdict
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.cli.exactness import exactness_data, show_exactness
from tailblock.cli.options import Checklists, File, Json

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice.results import Step
    from tailblock.cli.output import Screen
    from tailblock.pipeline import Examined

MOST = 15  # checks that a person reads
# Why checks stand where they stand.
STEPS: Mapping[Step, str] = MappingProxyType(
    {
        "before-strings": "Before a string moves:",
        "tension": "Tension in steps, the places of danger on each:",
        "again": "The same checks as before, in the same setup:",
        "must-read": "What must be read:",
        "opening": "The first looks of this visit:",
        "asked": "What the player can tell, while they are there:",
        "at-pitch": "What can only be read at pitch, while it stands there:",
        "clears": "Looks at what holds moves back:",
        "gate": "What decides whether other answers count:",
        "gain": "What tells most for each minute:",
    }
)


def next_(file: File, checklists: Checklists = None, as_json: Json = False) -> None:
    """Say what to look at next, and what not to do yet."""
    from tailblock.cli.moved import held_data, in_force
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session

    examined = Session.open(file, checklists).examined
    advice = examined.advice
    if not as_json:
        show_next(Screen(), examined)
        return
    fields = ("check", "gain_bits", "minutes", "setup_minutes", "reason", "bundle")
    of_bundle = ("checks", "minutes", "setup_minutes", "gain_bits", "worth_it", "reason")
    print_data(
        {
            "advice": [{name: getattr(entry, name) for name in fields} for entry in advice.advice],
            "bundles": [
                {"setup": dict(bundle.setup), **{name: getattr(bundle, name) for name in of_bundle}}
                for bundle in advice.bundles
            ],
            "held_back": [held_data(held) for held in in_force(examined)],
            "enough": advice.enough,
            "phase": advice.phase,
            "signs": [asdict(sign) for sign in advice.signs],
            **exactness_data(examined),
        }
    )


def show_next(screen: Screen, examined: Examined) -> None:
    """Print what must not be done, then what to look at next."""
    from tailblock.cli.moved import in_force
    from tailblock.cli.phrases import (
        PHASES,
        check_text,
        held_lines,
        held_rule,
        sign_lines,
        slacken_lines,
        stop_rule,
    )
    from tailblock.report.wording import minutes

    advice = examined.advice
    for line in slacken_lines(advice.slacken_now, examined):
        screen.say(line, "danger")
    for line in (*sign_lines(examined), *held_lines(in_force(examined), examined)):
        screen.say(line, "danger")
    if in_force(examined):
        screen.say(held_rule(examined.checklist), "quiet")
    show_exactness(screen, examined)
    if advice.phase:
        screen.say(PHASES[advice.phase], "title")
    step: Step | None = None
    shown: int | None = None
    for number, entry in enumerate(advice.advice[:MOST], start=1):
        if entry.bundle != shown:
            shown, step = entry.bundle, None
            _show_bundle(screen, examined, shown)
        if entry.step != step:
            step = entry.step
            screen.say(STEPS[step])
        cost = minutes(entry.minutes)
        condition = f", {entry.if_trait}" if entry.if_trait else ""
        screen.say(f"{number}. {check_text(entry.check, examined.checklist)}, {cost}{condition}")
        screen.say(entry.reason, "quiet", indent=3)
    if len(advice.advice) > MOST:
        screen.say(f"{len(advice.advice) - MOST} more come after these.", "quiet")
    if advice.advice and not advice.enough:
        screen.say(stop_rule(examined), "quiet")
    show_enough(screen, examined)


def _show_bundle(screen: Screen, examined: Examined, place: int) -> None:
    """Print what is done in one setup, and from where on nothing is worth its minutes."""
    bundle = examined.advice.bundles[place]
    screen.say(bundle.reason, "title")
    if not bundle.worth_it:
        stop = examined.checklist.limits.stop_bits_per_minute
        screen.say(f"Under {stop:g} bits a minute: not worth the time.", "quiet")


def show_enough(screen: Screen, examined: Examined) -> None:
    """Print that nothing more is worth its minutes, and what stays open, if that is so."""
    from tailblock.cli.phrases import settling_text
    from tailblock.report.wording import percent

    advice = examined.advice
    if not advice.enough:
        return
    screen.say("Enough: nothing more that can be looked at is worth its minutes.", "title")
    for entry in advice.unsettled:
        name = examined.checklist.faults[entry.fault].name
        settle = "nothing unread would settle it"
        if entry.settled_by:
            settle = f"to settle it: {settling_text(entry.settled_by, examined.checklist)}"
        screen.say(f"Still open: {name} ({percent(entry.probability)}); {settle}.", indent=2)
