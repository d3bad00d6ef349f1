"""A report for the typesetter: a fixed program, and the report's outline as data for it.

In: a `Report`. Out: `Typeset`: the source of the program, the same for every report, and the JSON
that it reads. No text of a report is ever part of the program, so none is read as a command.
"""

from __future__ import annotations

import json
from base64 import b64decode
from dataclasses import dataclass, field, fields, is_dataclass
from importlib.resources import files
from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.messages import N_, _
from tailblock.report.conventions import speaking
from tailblock.report.letterhead import own_words
from tailblock.report.outline import NewPage
from tailblock.report.outline_bench import evidence
from tailblock.report.outline_photos import as_svg, pictures
from tailblock.report.outline_player import first_page, players_copy
from tailblock.report.outline_work import how_to_go_on
from tailblock.report.plain import printable
from tailblock.report.wording import cut

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Mark, Report
    from tailblock.report.outline import Block

LONGEST = 20_000  # characters of one text that are printed: six pages
ALL_LONG = 400_000  # characters that all texts of more than `SHORT` may take together
SHORT = 2_000

DEEP, WARN = "#24463f", "#8a2a12"  # of headings and of warnings, as in report.css
SVG = "data:image/svg+xml;base64,"
LOGO = "logo"  # its name among the pictures
COPIES = {"player": N_("Player's copy"), "bench": N_("Bench copy")}


@dataclass(frozen=True, slots=True)
class Typeset:
    """The program and its inputs: `data`, a JSON text, and pictures by name, as SVG."""

    program: str
    data: str
    pictures: dict[str, str] = field(default_factory=dict)


def to_typst(
    report: Report,
    *,
    copy: Copy = "bench",
    paper: tuple[float, float] = (210.0, 297.0),
    stamp: str = "",
) -> Typeset:
    """Return a copy of a report for the typesetter.

    Parameters
    ----------
    paper
        Width and height of a sheet [mm].
    stamp
        What stands in the margin above the first page.
    """
    head, shop = report.heading, report.letterhead
    with speaking(report.conventions):
        blocks = outline(report, copy=copy)
    data = {
        "title": _("Inspection {job}: {instrument}").format(
            job=head.job, instrument=head.instrument
        ),
        "author": head.by,
        "day": head.day,
        "copy": _(COPIES[copy]),
        "job": head.job,
        "paper": paper,
        "stamp": stamp,
        "deep": (shop.heading_colour if shop else "") or DEEP,
        "warn": (shop.warning_colour if shop else "") or WARN,
        "blocks": blocks,
    }
    program = files("tailblock.report").joinpath("templates/report.typ").read_text("utf-8")
    drawn = pictures(report)
    if shop and shop.mark:
        drawn[LOGO] = _drawn(shop.mark)
    return Typeset(program, json.dumps(plain_data(data), ensure_ascii=False), drawn)


def _drawn(mark: Mark) -> str:
    """Return a logo as SVG."""
    if mark.data.startswith(SVG):
        return b64decode(mark.data.removeprefix(SVG)).decode()
    return as_svg(mark.data, mark.width, mark.height)


def outline(report: Report, *, copy: Copy) -> tuple[Block, ...]:
    """Return all pages of a copy."""
    bench = copy == "bench"
    rest = (*evidence(report), *how_to_go_on(report)) if bench else players_copy(report)
    return (*first_page(report, bench=bench), NewPage(), *rest, *own_words(report))


def plain_data(value: object) -> object:
    """Return a value as plain data; a block carries its kind, and every text can be printed."""
    return _Printed().data(value)


class _Printed:
    """What goes to the typesetter, with the room that is left for long texts.

    Paper ends: a text of many pages is cut, and says where the whole of it stands.
    """

    def __init__(self) -> None:
        self.room = ALL_LONG

    def data(self, value: object) -> object:
        """Return a value as plain data; a block carries its kind, every text can be printed."""
        if isinstance(value, Markup):
            return str(value)  # a picture: its texts were made fit when it was drawn
        if isinstance(value, str):
            return printable(self._fitted(value))
        if isinstance(value, dict):
            return {name: self.data(inner) for name, inner in value.items()}
        if isinstance(value, list | tuple):
            return [self.data(inner) for inner in value]
        if is_dataclass(value):
            kind = type(value).__name__.lower()
            return {"kind": kind} | {
                f.name: self.data(getattr(value, f.name)) for f in fields(value)
            }
        return value

    def _fitted(self, text: str) -> str:
        if len(text) <= SHORT:
            return text
        most = max(SHORT, min(LONGEST, self.room))
        self.room -= min(len(text), most)
        return text if len(text) <= most else f"{text[:most]}{cut(len(text))}"
