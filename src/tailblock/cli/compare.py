"""`compare`: two visits of one instrument side by side.

In: an inspection file, two visits by their numbers or none. Out: what improved, what got worse,
what is outside its limits, where it is heading and when to look again; text, or JSON.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, File, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session
    from tailblock.report.model import Compared, Comparison

TITLES = {"worse": "Worse:", "better": "Better:", "same": "As it was:"}


class NothingToCompare(TailblockError):
    """There are no two visits with a check in common."""

    def __init__(self, visits: int) -> None:
        self.visits = visits
        if visits == 1:
            said, mend = "there is one visit", "`tailblock walk FILE --stage ...` begins the next"
        else:
            said, mend = "no two visits have a check in common", "name two visits by their numbers"
        super().__init__(f"{said}, and nothing to compare it with ({mend})")


class NotTwoVisits(TailblockError):
    """Two visits were wanted, the earlier one first."""

    def __init__(self, given: tuple[str, ...]) -> None:
        self.given = given
        super().__init__(
            f"{' '.join(given)}: these are no two visits (name the earlier one, then the later)"
        )


def compare(
    file: File,
    visits: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[VISIT VISIT]", help="Two visits by their numbers; else the last two."
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Compare two visits: what improved, what got worse, where it is heading."""
    from dataclasses import asdict

    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.session import Session
    from tailblock.report.comparison import comparison

    session = Session.open(file, checklists)
    chosen = _chosen(tuple(visits or ()), session)
    examined = session.examined
    found = comparison(examined, chosen, examined.chosen.calling)
    if found is None or found.visits is None:
        raise NothingToCompare(len(session.inspection.visits))
    if as_json:
        print_data(asdict(found))
        return
    show_comparison(Screen(), found)


def _chosen(given: tuple[str, ...], session: Session) -> tuple[int, int] | None:
    from tailblock.cli.visits import visit_at

    if not given:
        return None
    if len(given) != 2:
        raise NotTwoVisits(given)
    before, after = (visit_at(one, session) for one in given)
    if before >= after:
        raise NotTwoVisits(given)
    return before, after


def show_comparison(screen: Screen, found: Comparison) -> None:
    """Print a comparison, the worse first."""
    screen.say(f"{found.title[:1].upper()}{found.title[1:]}.", "title")
    screen.say(found.air)
    for way, title in TITLES.items():
        _show_readings(screen, title, found.by_way(way))
    if found.outside:
        screen.say("Still outside its limits:", "title")
    for line in found.outside:
        screen.say(line, indent=2)
    _show_lines(screen, "What is thought of the faults:", [one.text for one in found.faults])
    _show_lines(screen, "Not compared:", found.not_compared)
    _show_lines(screen, "Over the years:", [one.text for one in found.trends])
    _show_lines(
        screen,
        "When to look again:",
        [
            f"{one.due}: {one.text}{f' (done on {one.done})' if one.done else ''}"
            for one in found.look_again
        ],
    )


def _show_readings(screen: Screen, title: str, readings: tuple[Compared, ...]) -> None:
    if readings:
        screen.say(title, "title")
    for one in readings:
        change = f" ({one.change})" if one.change else ""
        screen.say(f"{one.check}, {one.setup}: {one.before} -> {one.after}{change}", indent=2)
        if one.settling:
            screen.say(one.settling, "quiet", indent=4)


def _show_lines(screen: Screen, title: str, lines: list[str] | tuple[str, ...]) -> None:
    if lines:
        screen.say(title, "title")
    for line in lines:
        screen.say(line, indent=2)
