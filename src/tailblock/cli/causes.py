"""`causes`, `next` and `why`: what is probable, what to do next, and what speaks for it.

In: an inspection file. Out: text, or JSON in shapes that are a contract.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, File, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.advice import CauseBelief, Weighed
    from tailblock.cli.output import Screen
    from tailblock.pipeline import Examined


class NoSuchFault(TailblockError):
    """A fault is named that the checklist lacks, or that this instrument cannot have."""

    def __init__(self, fault: str, why: str) -> None:
        self.fault = fault
        super().__init__(f"{fault}: {why}")


LISTED = 0.05  # the text leaves out what is less probable than this, and says how many
MOST = 15  # lines of a list that a person reads


def causes(
    file: File,
    checklists: Checklists = None,
    explain: Annotated[
        bool,
        typer.Option("--explain", help="Also: which faults together, and what surprises."),
    ] = False,
    as_json: Json = False,
) -> None:
    """List the probable causes."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.cli.together import show_together, together_data

    examined = Session.open(file, checklists).examined
    if as_json:
        fields = ("id", "name", "part", "probability", "prior", "decibans", "lead")
        faults = [{name: getattr(cause, name) for name in fields} for cause in examined.causes]
        data = {"visit": examined.visit + 1, "faults": faults, **exactness_data(examined)}
        print_data({**data, **together_data(examined)} if explain else data)
        return
    screen = Screen()
    show_causes(screen, examined)
    if explain:
        show_together(screen, examined)


def exactness_data(examined: Examined) -> dict[str, object]:
    """Return whether the probabilities are exact, and by how much they may be off if not."""
    beliefs = examined.beliefs
    return {
        "exact": not beliefs.approximate,
        "approximate": beliefs.approximate,
        "error": beliefs.error,
    }


def show_exactness(screen: Screen, examined: Examined) -> None:
    """Print that the probabilities are approximate, if they are."""
    from tailblock.report.wording import exactness

    if examined.beliefs.approximate:
        screen.say(exactness(examined.beliefs.error), "title")


def show_causes(screen: Screen, examined: Examined) -> None:
    """Print the most probable causes, one a line."""
    from tailblock.report.wording import percent

    shown = [cause for cause in examined.causes if cause.probability >= LISTED][:MOST]
    show_exactness(screen, examined)
    screen.say(f"{'now':>9}  {'at first':>9}  cause", "quiet")
    for cause in shown:
        now, before = percent(cause.probability), percent(cause.prior)
        screen.say(f"{now:>9}  {before:>9}  {cause.name} ({cause.id})")
    left = len(examined.causes) - len(shown)
    if left:
        screen.say(f"{left} more are less probable than that.", "quiet")


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
    of_bundle = ("setup", "checks", "minutes", "setup_minutes", "gain_bits", "worth_it", "reason")
    print_data(
        {
            "advice": [{name: getattr(entry, name) for name in fields} for entry in advice.advice],
            "bundles": [
                {name: getattr(bundle, name) for name in of_bundle} for bundle in advice.bundles
            ],
            "held_back": [held_data(held) for held in in_force(examined)],
            "enough": advice.enough,
            **exactness_data(examined),
        }
    )


def show_next(screen: Screen, examined: Examined) -> None:
    """Print what must not be done, then what to look at next."""
    from tailblock.cli.moved import in_force
    from tailblock.cli.phrases import check_text, held_lines, slacken_lines
    from tailblock.report.wording import minutes

    advice = examined.advice
    for line in slacken_lines(advice.slacken_now, examined):
        screen.say(line, "danger")
    for line in held_lines(in_force(examined), examined):
        screen.say(line, "danger")
    show_exactness(screen, examined)
    last = None
    for number, entry in enumerate(advice.advice[:MOST], start=1):
        bundle = advice.bundles[entry.bundle]
        if bundle is not last and bundle.setup_minutes:
            screen.say(bundle.reason)
        last = bundle
        cost = minutes(entry.minutes)
        condition = f", {entry.if_trait}" if entry.if_trait else ""
        screen.say(f"{number}. {check_text(entry.check, examined.checklist)}, {cost}{condition}")
        screen.say(entry.reason, "quiet", indent=3)
    if len(advice.advice) > MOST:
        screen.say(f"{len(advice.advice) - MOST} more come after these.", "quiet")
    show_enough(screen, examined)


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


def why(
    file: File,
    fault: Annotated[
        str, typer.Argument(metavar="FAULT", help="The id of a fault.", show_default=False)
    ],
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Say what speaks for and against a fault."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session

    examined = Session.open(file, checklists).examined
    cause = cause_of(fault, examined)
    reasons = examined.reasons[fault]
    if not as_json:
        show_why(Screen(), examined, fault)
        return
    print_data(
        {
            "visit": examined.visit + 1,
            "fault": fault,
            "name": cause.name,
            "part": cause.part,
            "probability": cause.probability,
            "prior": cause.prior,
            "decibans": cause.decibans,
            "for": [_weighed(entry) for entry in reasons.in_favour],
            "against": [_weighed(entry) for entry in reasons.against],
            "trail": list(reasons.trail),
            "settles": reasons.settles.check if reasons.settles else None,
            **exactness_data(examined),
        }
    )


def cause_of(fault: str, examined: Examined) -> CauseBelief:
    """Return what is known of a fault.

    Raises
    ------
    NoSuchFault
        There is none of that id, or it does not apply to this instrument.
    """
    from tailblock.knowledge.mending import nearest

    for cause in examined.causes:
        if cause.id == fault:
            return cause
    if fault in examined.checklist.faults:
        raise NoSuchFault(fault, "this fault does not apply to this instrument (see its traits)")
    mend = nearest(fault, [cause.id for cause in examined.causes])
    raise NoSuchFault(fault, f"there is no such fault ({mend or '`tailblock causes` lists them'})")


def show_why(screen: Screen, examined: Examined, fault: str) -> None:
    """Print the readings for and against a fault, its causes, and what would settle it."""
    from tailblock.cli.phrases import settling_text
    from tailblock.report.wording import listed, percent

    cause, reasons = cause_of(fault, examined), examined.reasons[fault]
    screen.say(f"{cause.name} ({fault}): {percent(cause.probability)}", "title")
    show_exactness(screen, examined)
    screen.say(cause.plain)
    moved = f"{cause.decibans:+.1f} decibans"
    screen.say(f"At first {percent(cause.prior)}; the readings moved it by {moved}.")
    for title, weighed in (("For it", reasons.in_favour), ("Against it", reasons.against)):
        if weighed:
            screen.say(f"{title}, in decibans:")
        for entry in weighed:
            screen.say(_weighed_text(entry, examined), indent=2)
    if not (reasons.in_favour or reasons.against):
        screen.say("No reading speaks for it or against it.")
    if reasons.trail:
        names = [examined.checklist.faults[name].name for name in reasons.trail]
        screen.say(f"Probably brought about by {listed(names)}.")
    if reasons.settles:
        screen.say(f"To settle it: {settling_text(reasons.settles, examined.checklist)}.")


def _weighed_text(entry: Weighed, examined: Examined) -> str:
    from tailblock.cli.phrases import check_text

    visit = f", visit {entry.visit + 1}" if examined.visit else ""
    return f"{entry.decibans:+6.1f}  {check_text(entry.check, examined.checklist)}{visit}"


def _weighed(entry: Weighed) -> dict[str, object]:
    return {"check": entry.check, "visit": entry.visit + 1, "decibans": entry.decibans}
