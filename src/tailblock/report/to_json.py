"""A report as JSON: the same content, for programs.

In: a `Report`. Out: JSON text with the version of its form under `tailblock`.
"""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from typing import TYPE_CHECKING

from tailblock.report.model import FORMAT, PLAYERS_FIELDS

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report


def to_json(report: Report, *, copy: Copy = "bench") -> str:
    """Return a copy of a report as JSON, its fields in the order of the model.

    The bench copy is the whole report; the player's copy is what its pages show. A photograph is
    named, its picture is not in it.
    """
    whole = asdict(replace(report, photos=tuple(replace(one, jpeg=b"") for one in report.photos)))
    for photo in whole["photos"]:
        del photo["jpeg"]  # its name and its digest say which it is
    shown = whole if copy == "bench" else {name: whole[name] for name in PLAYERS_FIELDS}
    return json.dumps({"tailblock": FORMAT, **shown}, ensure_ascii=False, indent=2) + "\n"
