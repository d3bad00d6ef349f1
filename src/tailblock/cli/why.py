"""`why`: what speaks for and against a fault, and whether it comes back once it is repaired.

In: an inspection file and the id of a fault. Out: text, or JSON in a shape that is a contract.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.causes import cause_of
from tailblock.cli.exactness import exactness_data, show_exactness
from tailblock.cli.options import Checklists, File, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.advice import Weighed
    from tailblock.advice.returning import ReturnRisk
    from tailblock.cli.output import Screen
    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined


def why(
    file: File,
    fault: Annotated[
        str, typer.Argument(metavar="FAULT", help="The id of a fault.", show_default=False)
    ],
    also: Annotated[
        list[str] | None,
        typer.Option(
            "--with", metavar="REMEDY", help="A remedy that is done as well; may be repeated."
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Say what speaks for and against a fault, and whether repairs last."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session

    examined = Session.open(file, checklists).examined
    cause = cause_of(fault, examined)
    reasons = examined.reasons[fault]
    comes_back = after_repair(examined, fault, also or ())
    if not as_json:
        screen = Screen()
        show_why(screen, examined, fault)
        show_comes_back(screen, examined, comes_back)
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
            "comes_back": None if comes_back is None else [_repair(one) for one in comes_back],
            **exactness_data(examined),
        }
    )


class NoSuchRemedy(TailblockError):
    """A remedy is named that the checklist lacks."""

    def __init__(self, remedy: str, checklist: Checklist) -> None:
        from tailblock.knowledge.mending import nearest

        self.remedy = remedy
        mend = nearest(remedy, list(checklist.remedies))
        super().__init__(
            f"{remedy}: there is no such remedy in the checklist {checklist.id} "
            f"({mend or 'its remedies folder names them'})"
        )


@dataclass(frozen=True, slots=True)
class AfterRepair:
    """A remedy for a fault, what is done with it, and the risk that the fault comes back."""

    remedy: str
    done_with: tuple[str, ...]
    risk: ReturnRisk


def after_repair(
    examined: Examined, fault: str, also: Sequence[str]
) -> tuple[AfterRepair, ...] | None:
    """Return for each remedy of a fault how likely the fault is to come back afterwards.

    Returns
    -------
    None where exact probabilities are out of reach; nothing for an event of the past

    Raises
    ------
    NoSuchRemedy
        The checklist lacks one of those that are done as well.
    """
    from tailblock.advice.returning import remedies_for, with_needs

    checklist = examined.checklist
    for name in also:
        if name not in checklist.remedies:
            raise NoSuchRemedy(name, checklist)
    found = []
    for remedy in remedies_for(checklist, examined.inspection.instrument.traits, fault):
        plan = with_needs(checklist, [*also, remedy.id])
        risks = examined.return_risk(plan, [fault])
        if risks is None:
            return None
        rest = tuple(one for one in plan if one != remedy.id)
        found += [AfterRepair(remedy.id, rest, risk) for risk in risks]
    return tuple(found)


def show_comes_back(
    screen: Screen, examined: Examined, comes_back: Sequence[AfterRepair] | None
) -> None:
    """Print after which remedy the fault comes back, how likely, and through which causes."""
    from tailblock.report.returns import in_words
    from tailblock.report.sentences import NO_RETURN_TERM
    from tailblock.report.wording import listed

    if comes_back is None:
        screen.say(NO_RETURN_TERM)
        return
    if comes_back:
        screen.say("Whether it comes back after a repair; this does not say when:")
    remedies = examined.checklist.remedies
    for one in comes_back:
        more = f", with {listed(one.done_with)}" if one.done_with else ""
        done = f"{remedies[one.remedy].name} ({one.remedy}){more}"
        screen.say(f"{done}: {in_words(one.risk, examined)}.", indent=2)


def _repair(one: AfterRepair) -> dict[str, object]:
    causes = [{"fault": fault, "share": share} for fault, share in one.risk.causes]
    return {
        "remedy": one.remedy,
        "with": list(one.done_with),
        "chance": one.risk.chance,
        "causes": causes,
    }


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
