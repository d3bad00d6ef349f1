"""`book`: all inspections of a folder, what is to be looked at again first.

In: a folder and what is looked for. Out: text, or JSON in a shape that is a contract.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.options import (
    Checklists,
    Json,
    NotAFolder,
    day_of,
    finder,
    one_of,
    pairs,
    shelves,
)

if TYPE_CHECKING:
    from tailblock.cli.output import Screen
    from tailblock.inspection.book import Book, Case, Found, Wanted

MOST = 100  # a longer list is searched rather than read
OTHER_STATES = ("closed", "overdue", "broken")


def book(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder with inspections.", show_default=False)
    ],
    *,
    trait: Annotated[
        list[str] | None, typer.Option("--trait", metavar="NAME=VALUE", help="As bracing=ladder.")
    ] = None,
    fault: Annotated[
        str, typer.Option("--fault", metavar="ID", help="Confirmed, accepted or worked on.")
    ] = "",
    state: Annotated[
        str,
        typer.Option("--state", help="A stage, as of the last visit; or closed, overdue, broken."),
    ] = "",
    since: Annotated[
        str, typer.Option("--since", metavar="DATE", help="Seen on that day or later.")
    ] = "",
    most: Annotated[
        int, typer.Option("--most", metavar="N", min=1, help="List so many at most.")
    ] = MOST,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """List the inspections of a folder, overdue follow-ups first."""
    from contextlib import closing

    from platformdirs import user_cache_path

    from tailblock import __version__
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.progress import going_through
    from tailblock.inspection.book import Book, Wanted
    from tailblock.knowledge.files import stamp_of

    if not folder.is_dir():
        raise NotAFolder(folder)
    traits = pairs("--trait", trait, "bracing=ladder")
    day = day_of(since, "--since") if since else None
    where = shelves(checklists, folder / "any")
    key = f"{__version__} {stamp_of(where.roots())}"
    keep_in = user_cache_path("tailblock", appauthor=False)
    over = going_through("Inspections")
    with closing(Book(folder, finder(where), keep_in, key=key, over=over)) as opened:
        wanted = Wanted(traits, fault, state, day)
        _require_known(opened, wanted)
        found = opened.search(wanted, day_of(""), most)
    if as_json:
        totals = {"total": found.total, "overdue": found.overdue, "broken": found.broken}
        print_data({**totals, "cases": [_data(case) for case in found.cases]})
    else:
        show_book(Screen(), found)


def _require_known(opened: Book, wanted: Wanted) -> None:
    """Refuse a trait or a state that no inspection of the book has: most often a slip.

    Raises
    ------
    NoSuchName
    """
    traits = opened.known("trait")
    for name in wanted.traits:
        if traits:
            one_of("--trait", name, traits)
    if wanted.state:
        one_of("--state", wanted.state, (*OTHER_STATES, *opened.known("stage")))


def _data(case: Case) -> dict[str, Any]:
    return {
        "path": case.path,
        "job": case.job,
        "instrument": case.instrument,
        "checklist": case.checklist,
        "stage": case.stage,
        "day": case.day or None,
        "visits": case.visits,
        "overdue": case.overdue,
        "follow_ups": [
            {
                "due": one.due,
                "check": one.check,
                "remedy": one.remedy,
                "overdue": one.overdue,
            }
            for one in case.due
        ],
        "error": case.error or None,
    }


def show_book(screen: Screen, found: Found) -> None:
    """Print the cases, one a line, with what is to be looked at again below each."""
    from tailblock.report.wording import counted, shortened

    for case in found.cases:
        if case.error:
            screen.say(f"cannot be read: {case.error}", "danger")
            continue
        visits = counted(case.visits, "{number} visit", "{number} visits")
        screen.say(
            f"{case.day}  {case.stage}, {visits}  {shortened(case.instrument, 60)} ({case.path})"
        )
        for one in case.due:
            said = f"{'overdue since' if one.overdue else 'look again on'} {one.due}: {one.title}"
            screen.say(said, "danger" if one.overdue else "quiet", indent=2)
    left = found.total - len(found.cases)
    if left:
        screen.say(f"{left} more (--most lists more of them, --since and others fewer).", "quiet")
    sound = counted(found.total - found.broken, "{number} inspection", "{number} inspections")
    screen.say(f"{sound}, {found.overdue} overdue, {found.broken} cannot be read.", "quiet")
