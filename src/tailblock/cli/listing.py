"""What can be named in a talk: parts, and the checks of a part.

In: a checklist. Out: lines on the screen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.wording import minutes

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tailblock.cli.output import Screen
    from tailblock.knowledge.checklist import Checklist


def show_parts(screen: Screen, checklist: Checklist) -> None:
    """Print the parts."""
    for part in checklist.parts.values():
        screen.say(f"{part.id}: {part.name}", indent=2)


def show_checks(screen: Screen, checklist: Checklist, among: Iterable[str], part: str) -> None:
    """Print those of some checks that belong to a part, or without one the parts."""
    if not part:
        show_parts(screen, checklist)
        return
    checks = [checklist.checks[name] for name in among]
    listed = [check for check in checks if check.part == part and check.derived is None]
    for check in listed:
        screen.say(f"{check.id}: {check.title}, {minutes(check.minutes)}", indent=2)
    if not listed:
        screen.say(f"There is nothing to check at {part!r}; `list` names the parts.")
