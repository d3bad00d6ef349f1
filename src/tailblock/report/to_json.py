"""A report as JSON: the same content, for programs.

In: a `Report`. Out: JSON text with the version of its form under `tailblock`.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

from tailblock.report.model import FORMAT

if TYPE_CHECKING:
    from tailblock.report.model import Report


def to_json(report: Report) -> str:
    """Return a report as JSON, its fields in the order of the model."""
    return json.dumps({"tailblock": FORMAT, **asdict(report)}, ensure_ascii=False, indent=2) + "\n"
