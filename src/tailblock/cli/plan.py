"""`plan`: staged options of work that the player decides on, and doing nothing.

In: an inspection file. Out: text, or JSON.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.cli.options import Checklists, File, Json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.report.model import Hours, Offer, Plan, Work


def plan(file: File, checklists: Checklists = None, as_json: Json = False) -> None:
    """Offer work in stages, each with its reason and what it leaves."""
    from dataclasses import asdict

    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.report.plan import plan as written

    examined = Session.open(file, checklists).examined
    found = written(examined, {})
    if as_json:
        print_data({"visit": examined.visit + 1, **asdict(found)})
        return
    show_plan(Screen(), found)


def show_plan(screen: Screen, found: Plan) -> None:
    """Print the plan: doing nothing, the options, what is watched."""
    screen.say("Do nothing", "title")
    for line in found.leave:
        screen.say(line, indent=2)
    _lines(screen, "What then follows:", found.follows)
    for offer in found.offers:
        _show_offer(screen, offer)
    _lines(screen, "Watch", found.watch)
    _lines(screen, "Likely, and nothing is done about it", found.without_work)
    _lines(screen, "Likely from the start alone; look before any work", found.look_first)


def _show_offer(screen: Screen, offer: Offer) -> None:
    screen.say(f"{offer.title}: {offer.takes}", "title")
    screen.say(offer.promise, "quiet", indent=2)
    for number, work in enumerate(offer.works, start=1):
        _show_work(screen, number, work)
    screen.say(offer.says, indent=2)
    if offer.leaves:
        screen.say(f"It leaves: {'; '.join(offer.leaves)}.", indent=2)
    if offer.returns:
        screen.say(f"May come back while the causes stay: {'; '.join(offer.returns)}.", indent=2)


def _show_work(screen: Screen, number: int, work: Work) -> None:
    waits = ", only if another look calls for it" if work.if_found else ""
    screen.say(f"{number}. {work.name} ({work.id}): {_hours(work.hours)}{waits}", indent=2)
    reasons = (work.reason, *work.deals_with, *work.access, work.asked_again)
    for line in (reason for reason in reasons if reason):
        screen.say(f"{line}.", indent=5)
    if work.instead:
        screen.say(f"Other ways: {'; '.join(work.instead)}.", "quiet", indent=5)


def _hours(hours: Hours) -> str:
    return f"{hours.low:g} / {hours.likely:g} / {hours.high:g} h"


def _lines(screen: Screen, title: str, lines: Sequence[str]) -> None:
    if lines:
        screen.say(title, "title")
    for line in lines:
        screen.say(line, indent=2)
