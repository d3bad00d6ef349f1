"""A report for the typesetter: a fixed program, and the report's outline as data for it.

In: a `Report`. Out: `Typeset`: the source of the program, the same for every report, and the JSON
that it reads. No text of a report is ever part of the program, so none is read as a command.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field, fields, is_dataclass
from importlib.resources import files
from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.report.outline import NewPage
from tailblock.report.outline_bench import evidence
from tailblock.report.outline_photos import pictures
from tailblock.report.outline_player import first_page, players_copy
from tailblock.report.outline_work import how_to_go_on
from tailblock.report.plain import printable
from tailblock.report.wording import cut

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report
    from tailblock.report.outline import Block

LONGEST = 20_000  # characters of one text that are printed: six pages
ALL_LONG = 400_000  # characters that all texts of more than `SHORT` may take together
SHORT = 2_000

COPIES = {"player": "Player's copy", "bench": "Bench copy"}


@dataclass(frozen=True, slots=True)
class Typeset:
    """The program and its inputs: `report`, a JSON text, and pictures by name, as SVG."""

    program: str
    report: str
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
    head = report.heading
    data = {
        "title": f"Inspection {head.job}: {head.instrument}",
        "author": head.by,
        "day": head.day,
        "copy": COPIES[copy],
        "job": head.job,
        "paper": paper,
        "stamp": stamp,
        "blocks": outline(report, copy=copy),
    }
    program = files("tailblock.report").joinpath("templates/report.typ").read_text("utf-8")
    return Typeset(program, json.dumps(_Printed().data(data), ensure_ascii=False), pictures(report))


def outline(report: Report, *, copy: Copy) -> tuple[Block, ...]:
    """Return all pages of a copy."""
    bench = copy == "bench"
    rest = (*evidence(report), *how_to_go_on(report)) if bench else players_copy(report)
    return (*first_page(report, bench=bench), NewPage(), *rest)


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
