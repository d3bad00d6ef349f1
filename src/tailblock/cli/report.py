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
    form: Annotated[Format, typer.Option("--format", help="The form of the report.")] = Format.HTML,
    checklists: Checklists = None,
) -> None:
    """Write the graded report, and print its path."""
    from tailblock.cli.output import Screen
    from tailblock.cli.session import Session

    charges = shop_of(file, shop)
    examined = Session.open(file, checklists).examined
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
