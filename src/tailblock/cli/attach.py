"""`attach`: a report behind the pages of an estimate, or embedded in it.

In: a PDF that another program made, and an inspection file. Out: a new PDF, and its path. The
estimate itself is never written to.
"""

from __future__ import annotations

import re
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, ShopFile, WhichOption
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.report.model import Report


class Copy(StrEnum):
    """For whom a report is: the player in plain words, or the bench."""

    PLAYER = "player"
    BENCH = "bench"


class InPlace(TailblockError):
    """The result would take the place of what it is made from."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: this is what the new PDF is made from (give it another name)")


def attach(
    estimate: Annotated[
        Path, typer.Argument(metavar="ESTIMATE", help="A PDF.", show_default=False)
    ],
    *,
    inspection: Annotated[
        Path, typer.Option("--inspection", metavar="FILE", help="The inspection file.")
    ],
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="PDF", help="Where to; a new file.")
    ],
    option: WhichOption = "",
    copy: Annotated[Copy, typer.Option("--copy", help="For whom the report is.")] = Copy.PLAYER,
    embed: Annotated[
        bool, typer.Option("--embed", help="Embed the report; the pages stay as they are.")
    ] = False,
    shop: ShopFile = None,
    checklists: Checklists = None,
) -> None:
    """Put a report behind an estimate, in a new PDF."""
    from tailblock.cli.output import Screen
    from tailblock.cli.progress import going_through
    from tailblock.cli.session import Session
    from tailblock.inspection.photos import pictures_of
    from tailblock.inspection.shop import shop_of
    from tailblock.inspection.store import read_whole
    from tailblock.inspection.write import put
    from tailblock.report import attach as pdf
    from tailblock.report.build import build
    from tailblock.report.to_pdf import to_pdf

    for source in (estimate, inspection):
        if output.resolve() == source.resolve() or _same(output, source):
            raise InPlace(output)
    original = read_whole(estimate)
    paper = pdf.paper_of(original, str(estimate))
    charges = shop_of(inspection, shop)
    examined = Session.open(inspection, checklists).examined
    pictures = pictures_of(examined.inspection, going_through("Photographs"))
    report = build(examined, option, charges, pictures)
    printed = to_pdf(report, copy=copy.value, paper=paper, stamp=_stamp(report))
    if embed:
        made = pdf.embed(original, printed, _name(report), str(estimate))
    else:
        made = pdf.append(original, printed, str(estimate))
    put(output, made)
    Screen().say(str(output))


def _same(output: Path, source: Path) -> bool:
    """Return whether two names lead to one file, as hard links do."""
    return output.exists() and source.exists() and output.samefile(source)


def _stamp(report: Report) -> str:
    from tailblock.report.wording import attached

    return attached(report.heading)


def _name(report: Report) -> str:
    """Return the name of the embedded file: of the job and the day, of no person."""
    job = re.sub(r"[^A-Za-z0-9]+", "-", report.heading.job).strip("-")
    return (
        f"inspection-{job}-{report.heading.day}.pdf"
        if job
        else f"inspection-{report.heading.day}.pdf"
    )
