"""Arguments and options that several commands share, and what they stand for.

In: texts from the command line. Out: typed values, or an error that says how it is written.
"""

from __future__ import annotations

import os
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from tailblock.inspection.record import Setup
    from tailblock.inspection.store import ChecklistFinder
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves

File = Annotated[
    Path, typer.Argument(metavar="FILE", help="The inspection file.", show_default=False)
]
Checklists = Annotated[
    Path | None,
    typer.Option("--checklists", metavar="DIR", help="A folder with checklists, looked in first."),
]
WhichOption = Annotated[
    str,
    typer.Option(
        "--option", metavar="ID", help="Which offer of `plan`; else the widest that is needed."
    ),
]
ShopFile = Annotated[
    Path | None,
    typer.Option("--shop", metavar="FILE", help="What an hour costs; else shop.yaml beside FILE."),
]
Json = Annotated[bool, typer.Option("--json", help="Answer as JSON, for a script.")]
Setups = Annotated[
    list[str] | None,
    typer.Option("--setup", metavar="NAME=STATE", help="The setup it is in, as strings=slack."),
]
Date = Annotated[
    str, typer.Option(metavar="DAY", help="The day of the new visit, as 2031-03-02; else today.")
]

Captions = Annotated[
    list[str] | None,
    typer.Option("--caption", metavar="TEXT", help="What a photograph shows; one for each."),
]

ENVIRONMENT = "TAILBLOCK_CHECKLISTS"  # a folder with checklists, from the shell


class NotAPair(TailblockError):
    """An option that ties two things together lacks one of them."""

    def __init__(self, option: str, given: str, example: str) -> None:
        self.option, self.given = option, given
        said, like = (f"{option} {text}".strip() for text in (given, example))
        super().__init__(f"{said}: this is no pair (write it like {like})")


class GivenTwice(TailblockError):
    """An option says two things of the same name."""

    def __init__(self, option: str, name: str) -> None:
        self.option, self.name = option, name
        place = f"{option}: " if option else ""
        super().__init__(f"{place}{name} is given twice (keep one of the two)")


class NoSuchName(TailblockError):
    """An option names something that the checklist does not have."""

    def __init__(self, option: str, given: str, known: Collection[str]) -> None:
        self.option, self.given = option, given
        super().__init__(f"{option}: there is no {given!r} (there is {', '.join(known)})")


class NotADay(TailblockError):
    """A day is not written as ISO 8601 has it."""

    def __init__(self, given: str, option: str = "--date") -> None:
        self.given = given
        super().__init__(f"{option}: {given!r} is no day (write it like 2031-03-02)")


class NoSuchState(TailblockError):
    """The setup has no such name, or not such a state."""

    def __init__(self, name: str, state: str, checklist: Checklist) -> None:
        self.name, self.state = name, state
        states = checklist.setups.states
        if name in states:
            said = f"{name} cannot be {state!r} (it is one of {', '.join(states[name])})"
        else:
            said = f"there is no {name!r} in the setup (there is {', '.join(states)})"
        super().__init__(said)


def pairs(option: str, given: Sequence[str] | None, example: str) -> dict[str, str]:
    """Return what was given as NAME=VALUE, behind an option or, without one, by itself.

    Raises
    ------
    NotAPair, GivenTwice
    """
    found: dict[str, str] = {}
    for text in given or ():
        name, equals, value = (part.strip() for part in text.partition("="))
        if not (name and equals and value):
            raise NotAPair(option, text, example)
        if name in found:
            raise GivenTwice(option, name)
        found[name] = value
    return found


def one_of(option: str, given: str, known: Collection[str]) -> str:
    """Return a name if there is such a one.

    Raises
    ------
    NoSuchName
    """
    if given not in known:
        raise NoSuchName(option, given, known)
    return given


def day_of(given: str, option: str = "--date") -> date:
    """Return a day as ISO 8601 writes it; today if nothing is given.

    Raises
    ------
    NotADay
    """
    try:
        return date.fromisoformat(given) if given else datetime.now().astimezone().date()
    except ValueError:
        raise NotADay(given, option) from None


def setup_with(setup: Setup, changes: dict[str, str], checklist: Checklist) -> dict[str, str]:
    """Return a setup after some changes.

    Raises
    ------
    NoSuchState
    """
    states = checklist.setups.states
    for name, state in changes.items():
        if name not in states or state not in states[name]:
            raise NoSuchState(name, state, checklist)
    return {**setup, **changes}


def shelves(checklists: Path | None, file: Path | None = None) -> Shelves:
    """Return where checklists are looked for: the option, the environment, beside the file, ours.

    Raises
    ------
    NotAFolder
        The option names something that is no folder.
    """
    from tailblock.knowledge.library import Shelves

    if checklists is not None and not checklists.is_dir():
        raise NotAFolder(checklists)
    environment = os.environ.get(ENVIRONMENT)
    return Shelves(
        given=checklists,
        environment=Path(environment) if environment else None,
        beside=file.absolute().parent if file else None,
    )


def finder(where: Shelves) -> ChecklistFinder:
    """Return a way from a checklist's id to the checklist; each is read once.

    The finder raises `ChecklistNotFound`, or `ProblemsFound` with what is wrong in its files.
    """
    from platformdirs import user_cache_path

    from tailblock.knowledge.ready import open_checklist

    keep_in = user_cache_path("tailblock", appauthor=False)
    return cache(lambda name: open_checklist(name, where, keep_in))


class NotAFolder(TailblockError):
    """A folder was wanted."""

    def __init__(self, path: Path) -> None:
        self.path = path
        what = "this is a file" if path.exists() else "there is no such folder"
        super().__init__(f"{path}: {what} (a folder is wanted)")
