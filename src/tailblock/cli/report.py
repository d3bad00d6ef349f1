"""`report`: the graded report as one file.

In: an inspection file. Out: a page beside it, and its path.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, File, ShopFile, WhichOption
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.inspection.shop import Shop
    from tailblock.pipeline import Examined
    from tailblock.report.model import Copy, Report


class IsTheInspection(TailblockError):
    """The report would take the place of the inspection file."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: this is the inspection itself (give the report another name)")


class NothingOffered(TailblockError):
    """There is no work to make an estimate of."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(f"{path}: no work is offered, so there are no lines (see the report)")


class OutOfReach(TailblockError):
    """The hours of an offer ask for exact probabilities, and these are out of reach."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__(
            f"{path}: hours need exact probabilities, which are out of reach here "
            "(`tailblock lint` names the widest part of the checklist)"
        )


class Format(StrEnum):
    """The forms a report can take."""

    HTML = "html"
    MARKDOWN = "markdown"
    JSON = "json"
    PDF = "pdf"


class Copies(StrEnum):
    """Whose copy is written."""

    PLAYER = "player"
    BENCH = "bench"
    BOTH = "both"


_ENDINGS = {Format.HTML: ".html", Format.MARKDOWN: ".md", Format.JSON: ".json", Format.PDF: ".pdf"}


def report(
    file: File,
    *,
    output: Annotated[
        Path | None,
        typer.Option("--output", "-o", help="Where to; else beside the inspection file."),
    ] = None,
    option: WhichOption = "",
    shop: ShopFile = None,
    lines: Annotated[
        bool, typer.Option("--lines", help="Line items for an estimate instead, as CSV and JSON.")
    ] = False,
    form: Annotated[Format, typer.Option("--format", help="The form of the report.")] = Format.HTML,
    copy: Annotated[
        Copies,
        typer.Option("--copy", help="For the player in plain words, for the bench, or both."),
    ] = Copies.BENCH,
    checklists: Checklists = None,
) -> None:
    """Write the graded report or its line items, and print the path of each file."""
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session
    from tailblock.inspection.shop import shop_of

    charges = shop_of(file, shop)
    examined = Session.open(file, checklists).examined
    if lines:
        for path in write_lines(examined, file, output, option, charges):
            Screen().say(str(path))
        return
    usual = file.with_name(f"{file.stem}.report{_ENDINGS[form]}")
    paths = _paths(output, usual, copy)
    for path in paths.values():
        if path.resolve() == file.resolve():
            raise IsTheInspection(path)
    write_report(examined, paths, form, option, charges)
    for path in paths.values():
        Screen().say(str(path))


def _paths(output: Path | None, usual: Path, copy: Copies) -> Mapping[Copy, Path]:
    """Return where each copy goes; the player's is named so unless it alone was given a name."""
    path = output or usual
    if copy is Copies.BENCH:
        return {"bench": path}
    named = path.with_name(f"{path.stem}.player{path.suffix}")
    if copy is Copies.PLAYER:
        return {"player": output or named}
    return {"player": named, "bench": path}


def write_report(
    examined: Examined,
    paths: Mapping[Copy, Path],
    form: Format = Format.HTML,
    option: str = "",
    shop: Shop | None = None,
) -> None:
    """Write copies of a report, each in one step, over an older one."""
    from tailblock.cli.progress import going_through
    from tailblock.inspection.photos import pictures_of
    from tailblock.inspection.write import put
    from tailblock.report.build import build
    from tailblock.report.conventions import Conventions

    pictures = pictures_of(examined.inspection, going_through("Photographs"))
    # JSON is for programs: its numbers are written in one way everywhere
    plainly = Conventions() if form is Format.JSON else None
    report = build(examined, option, shop, pictures, conventions=plainly)
    templates = shop.look.templates if shop else None
    for copy, path in paths.items():
        put(path, _rendered(report, copy, form, templates))


def _rendered(report: Report, copy: Copy, form: Format, templates: Path | None) -> bytes:
    """Return a copy in a form; a renderer is imported only where it is used."""
    if form is Format.PDF:
        from tailblock.report.to_pdf import to_pdf

        return to_pdf(report, copy=copy)
    if form is Format.HTML:
        from tailblock.report.to_html import to_html

        return to_html(report, copy=copy, templates=templates).encode()
    if form is Format.MARKDOWN:
        from tailblock.report.to_markdown import to_markdown

        return to_markdown(report, copy=copy, templates=templates).encode()
    from tailblock.report.to_json import to_json

    return to_json(report, copy=copy).encode()


def write_lines(
    examined: Examined, file: Path, output: Path | None, option: str, shop: Shop | None
) -> tuple[Path, ...]:
    """Write an option as line items, as CSV and JSON or as what a name ends with.

    Raises
    ------
    NothingOffered
        There is no work to list.
    """
    from tailblock.inspection.write import put
    from tailblock.report.line_items import line_items, to_csv, to_json
    from tailblock.report.options import option_of

    picked = option_of(examined.chosen, option, at_pitch=examined.may_string.answer == "yes")
    if picked is None:
        raise NothingOffered(file)
    found = examined.hours_of(picked.pieces)
    if found is None:
        raise OutOfReach(file)
    items = line_items(examined, found, shop)
    paths = [file.with_name(f"{file.stem}.lines{ending}") for ending in (".csv", ".json")]
    if output is not None:
        single = output.suffix in {".csv", ".json"}
        paths = [output] if single else [Path(f"{output}{end}") for end in (".csv", ".json")]
    for path in paths:
        if path.resolve() == file.resolve():
            raise IsTheInspection(path)
        text = to_csv(items) if path.suffix == ".csv" else to_json(examined, picked, items, found)
        put(path, text.encode())
    return tuple(paths)
