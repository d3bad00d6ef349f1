"""`new-checklist` and `diff`: a checklist begun, and two of them compared.

In: an id, or two checklists. Out: a folder that was written; what changed in meaning, as text or as
JSON.
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.checklist import opened
from tailblock.cli.options import Checklists, Json, NotAFolder

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.cli.output import Screen
    from tailblock.knowledge.difference import Change
    from tailblock.practice.ranked import Ranked

_SIGN = {"added": "+", "removed": "-", "changed": "~"}


def new_checklist(
    name: Annotated[
        str,
        typer.Argument(metavar="ID", help="Small letters, digits, hyphens.", show_default=False),
    ],
    title: Annotated[str, typer.Option(help="What it is about; else the id in words.")] = "",
    into: Annotated[
        Path, typer.Option(metavar="DIR", help="The folder that holds checklists.")
    ] = Path("checklists"),
) -> None:
    """Write a small checklist to begin with, one that passes lint and test."""
    from tailblock.cli.output import Screen
    from tailblock.practice.new_checklist import new_checklist as write

    if into.exists() and not into.is_dir():
        raise NotAFolder(into)
    folder = write(name, title, into)
    screen = Screen()
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        screen.say(str(path))
    screen.say(f"Change them, then: `tailblock lint {folder}`, `tailblock test {folder}`.")


def diff(
    old: Annotated[
        str, typer.Argument(metavar="OLD", help="An id, or a folder.", show_default=False)
    ],
    new: Annotated[
        str, typer.Argument(metavar="NEW", help="An id, or a folder.", show_default=False)
    ],
    vignettes: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", help="The folder of the vignettes; else `vignettes` in NEW, else in OLD."
        ),
    ] = None,
    checklists: Checklists = None,
    as_json: Json = False,
) -> None:
    """Say what changed between two checklists, and which vignettes move."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.cli.vignettes import vignettes_of
    from tailblock.knowledge.difference import differences
    from tailblock.practice.ranked import ranked

    before, after = opened(old, checklists), opened(new, checklists)
    changes = differences(before, after)
    folder = vignettes or vignettes_of(new, checklists) or vignettes_of(old, checklists)
    tried = list(ranked(before, after, folder)) if folder else []
    if as_json:
        print_data(
            {
                "old": {"id": before.id, "version": before.version, "digest": before.digest},
                "new": {"id": after.id, "version": after.version, "digest": after.digest},
                "changes": [asdict(change) for change in changes],
                "vignettes": [{**asdict(each), "differs": each.differs} for each in tried],
            }
        )
        return
    screen = Screen()
    screen.say(f"{before.id} {before.version} -> {after.id} {after.version}", "title")
    _show_changes(screen, changes)
    if folder is None:
        screen.say("No vignettes to try (`--vignettes DIR` names a folder).", "quiet")
    else:
        _show_ranked(screen, tried)


def _show_changes(screen: Screen, changes: Sequence[Change]) -> None:
    if not changes:
        screen.say("Nothing changed in meaning.")
    for change in changes:
        screen.say(f"{_SIGN[change.what]} {change.kind} {change.id}")
        for line in change.lines:
            screen.say(line, indent=4)


def _show_ranked(screen: Screen, tried: Sequence[Ranked]) -> None:
    different = [each for each in tried if each.differs]
    screen.say(f"{len(different)} of {len(tried)} vignettes rank differently", "title")
    for each in different:
        screen.say(each.vignette, indent=2)
        if each.old is None or each.new is None:
            which = "old" if each.old is None else "new"
            screen.say(f"the {which} one cannot take it: {each.because}", indent=4)
            continue
        if each.old.first != each.new.first:
            screen.say(f"leads: {_faults(each.old.first)} -> {_faults(each.new.first)}", indent=4)
        if each.old.next_check != each.new.next_check:
            was, now = (rank.next_check or "nothing" for rank in (each.old, each.new))
            screen.say(f"next: {was} -> {now}", indent=4)


def _faults(first: tuple[str, ...]) -> str:
    return ", ".join(first) or "nothing"
