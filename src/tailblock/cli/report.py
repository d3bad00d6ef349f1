"""`report`: the graded report as one file.

In: an inspection file. Out: a page beside it, and its path.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.options import Checklists, File, ShopFile, WhichOption, shop_of
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.inspection.shop import Shop
    from tailblock.pipeline import Examined


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


_ENDINGS = {Format.HTML: ".html", Format.MARKDOWN: ".md", Format.JSON: ".json"}


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
    checklists: Checklists = None,
) -> None:
    """Write the graded report or its line items, and print the path."""
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session

    charges = shop_of(file, shop)
    examined = Session.open(file, checklists).examined
    if lines:
        for path in write_lines(examined, file, output, option, charges):
            Screen().say(str(path))
        return
    path = output or file.with_name(f"{file.stem}.report{_ENDINGS[form]}")
    if path.resolve() == file.resolve():
        raise IsTheInspection(path)
    write_report(examined, path, form, option, charges)
    Screen().say(str(path))


def write_report(
    examined: Examined,
    path: Path,
    form: Format = Format.HTML,
    option: str = "",
    shop: Shop | None = None,
) -> None:
    """Write a report in one step, over an older one."""
    from tailblock.inspection.write import put
    from tailblock.report.build import build
    from tailblock.report.to_html import to_html
    from tailblock.report.to_json import to_json
    from tailblock.report.to_markdown import to_markdown

    render = {
        Format.HTML: to_html,
        Format.MARKDOWN: to_markdown,
        Format.JSON: to_json,
    }[form]
    put(path, render(build(examined, option, shop)).encode())


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

    picked = option_of(examined.chosen, option)
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
