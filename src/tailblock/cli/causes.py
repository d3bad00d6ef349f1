"""`causes`: what is probable.

In: an inspection file. Out: text, or JSON in a shape that is a contract.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.exactness import exactness_data, show_exactness
from tailblock.cli.options import Checklists, File, Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.advice import CauseBelief
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
