"""`record` and `accept`: one entry in an inspection file, for scripts and for quick hands.

In: a file and what is to be written. Out: what it moved.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.exactness import show_exactness
from tailblock.cli.options import Captions, Checklists, File, Json, Setups
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.cli.moved import Moved
    from tailblock.cli.output import Screen
    from tailblock.pipeline import Examined


class HoldsNothingBack(TailblockError):
    """A fault is to be accepted that holds no move back."""

    def __init__(self, fault: str, holding: tuple[str, ...]) -> None:
        self.fault, self.holding = fault, holding
        there = f"what holds back is {', '.join(holding)}" if holding else "nothing is held back"
        super().__init__(f"{fault}: it holds nothing back, so there is nothing to accept ({there})")


def record(
    file: File,
    check: Annotated[
        str, typer.Argument(metavar="CHECK", help="The id of a check.", show_default=False)
    ],
    value: Annotated[
        str,
        typer.Argument(
            metavar="VALUE", help="A value with its unit, a level, or unknown.", show_default=False
        ),
    ],
    *,
    note: Annotated[str, typer.Option(help="Words that go with it.")] = "",
    setup: Setups = None,
    photo: Annotated[
        list[str] | None, typer.Option(metavar="FILE", help="A photograph; may be repeated.")
    ] = None,
    caption: Captions = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Write one reading into an inspection file, and say what it moved."""
    from tailblock.cli.moved import moved_data
    from tailblock.cli.options import pairs, setup_with
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.photo import captioned
    from tailblock.cli.phrases import answer_text
    from tailblock.cli.session import Session

    session = Session.open(file, checklists)
    changes = pairs("--setup", setup, "strings=slack")
    state = setup_with(session.present, changes, session.checklist)
    entry, answer = session.understood(check, value, state)
    photos = captioned([session.photo(name) for name in photo or ()], caption)
    moved = session.record(check, value, state, note=note, photos=photos)
    understood = answer_text(entry, value, answer)
    if as_json:
        print_data(
            {"check": check, "understood": understood, **moved_data(moved, session.examined)}
        )
        return
    screen = Screen()
    screen.say(f"{check}: {understood}. Saved.")
    show_moved(screen, moved, session.examined)


def show_moved(screen: Screen, moved: Moved, examined: Examined) -> None:
    """Print what an answer changed, danger first."""
    from tailblock.cli.phrases import danger_lines, moved_lines

    for line in danger_lines(moved, examined):
        screen.say(line, "danger")
    for line in moved_lines(moved, examined):
        screen.say(line)
    show_exactness(screen, examined)


def accept(
    file: File,
    fault: Annotated[
        str,
        typer.Argument(
            metavar="FAULT", help="The fault that holds the move back.", show_default=False
        ),
    ],
    *,
    by: Annotated[str, typer.Option(help="Who takes it upon themselves.", show_default=False)],
    why: Annotated[str, typer.Option(help="The reason; both reports print it.")],
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Go on against a held-back move; the probabilities stay as they are."""
    from tailblock.cli.causes import cause_of
    from tailblock.cli.moved import moved_data
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.phrases import danger_lines, held_lines
    from tailblock.cli.session import Session

    session = Session.open(file, checklists)
    cause = cause_of(fault, session.examined)
    holding = tuple(
        dict.fromkeys(f for held in session.examined.advice.held_back for f in held.because)
    )
    if fault not in holding:
        raise HoldsNothingBack(fault, holding)
    moved = session.accept(fault, by, why)
    if as_json:
        print_data({"accepted": fault, **moved_data(moved, session.examined)})
        return
    screen = Screen()
    screen.say(f"{cause.name} ({fault}): accepted by {by}. The probabilities stay as they are.")
    for line in (
        *danger_lines(moved, session.examined),
        *held_lines(session.held_back, session.examined),
    ):
        screen.say(line, "danger")
