"""An option as line items, for whatever a shop writes its estimates with.

In: `Examined`, an option, its hours, a shop if there is one. Out: `LineItem`s, and these as CSV
(RFC 4180, UTF-8) and JSON. A piece of planned work is of kind `work`; what only comes up if opening
reveals it is of kind `allowance`.
"""

from __future__ import annotations

import csv
import json
from dataclasses import asdict, dataclass, fields
from io import StringIO
from typing import TYPE_CHECKING, Literal

from tailblock.advice.prices import to_minor_unit
from tailblock.report.hours import LISTED

if TYPE_CHECKING:
    from tailblock.advice.hours import WorkHours
    from tailblock.inspection.shop import Shop
    from tailblock.report.examined import Examined
    from tailblock.report.options import Option

FORMAT = 1
_BETWEEN = "; "  # items of a list within a cell


@dataclass(frozen=True, slots=True)
class LineItem:
    """One line of an estimate.

    `hours_low`, `hours_likely` and `hours_high` are those of the work if it is done, `chance` how
    probable that is, `hours_average` both together: for an allowance what to set aside.
    `material_allowance` is the shop's, in `currency`; both are empty without one. `cautions` are
    ids of the checklist; `stop_point` says that the player is asked before it goes on.
    """

    kind: Literal["work", "allowance"]
    remedy: str
    name: str
    part: str
    chance: float
    hours_low: float
    hours_likely: float
    hours_high: float
    hours_average: float
    material_allowance: str
    currency: str
    materials: tuple[str, ...]
    cautions: tuple[str, ...]
    stop_point: bool
    reversible: bool


def line_items(
    examined: Examined, found: WorkHours, shop: Shop | None = None
) -> tuple[LineItem, ...]:
    """Return an option's work, planned work first, both in working order."""
    checklist = examined.checklist
    items = []
    for piece in sorted(found.pieces, key=lambda piece: not piece.planned):
        if not piece.planned and piece.chance < LISTED:
            continue
        remedy = checklist.remedies[piece.remedy]
        allowance = ""
        if shop is not None and remedy.id in shop.materials:
            allowance = f"{to_minor_unit(shop.materials[remedy.id], shop):f}"
        items.append(
            LineItem(
                kind="work" if piece.planned else "allowance",
                remedy=remedy.id,
                name=remedy.name,
                part=checklist.parts[remedy.part].name,
                chance=round(piece.chance, 4),
                hours_low=piece.low,
                hours_likely=piece.likely,
                hours_high=piece.high,
                hours_average=round(piece.expected, 2),
                material_allowance=allowance,
                currency=shop.currency if shop else "",
                materials=remedy.materials,
                cautions=remedy.cautions,
                stop_point=remedy.stop_point,
                reversible=remedy.reversible,
            )
        )
    return tuple(items)


def to_csv(items: tuple[LineItem, ...]) -> str:
    """Return line items as CSV with a head; lists are parted by semicolons."""
    out = StringIO(newline="")
    table = csv.writer(out)
    names = [field.name for field in fields(LineItem)]
    table.writerow(names)
    table.writerows([_cell(getattr(item, name)) for name in names] for item in items)
    return out.getvalue()


def to_json(
    examined: Examined, option: Option, items: tuple[LineItem, ...], found: WorkHours
) -> str:
    """Return line items as JSON, with the job, the visit and the hours of the whole."""
    visit = examined.inspection.visits[examined.visit]
    return (
        json.dumps(
            {
                "tailblock": FORMAT,
                "job": examined.inspection.job,
                "visit": examined.visit + 1,
                "date": visit.day.isoformat(),
                "option": option.id,
                "title": option.title,
                "hours": {
                    "mean": found.mean,
                    "sd": found.sd,
                    "enough": [asdict(one) for one in found.quantiles],
                },
                "items": [asdict(item) for item in items],
            },
            ensure_ascii=False,
            indent=2,
        )
        + "\n"
    )


def _cell(value: object) -> str:
    """Return a value as a cell, so that no spreadsheet takes a text for a formula."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        value = _BETWEEN.join(value)
    if isinstance(value, float):
        return f"{value:g}"
    text = str(value)
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t", "\r")) else text
