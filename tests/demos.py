"""The shipped checklists, and what follows from the demo inspections: each worked out once."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined
    from tailblock.report.model import Report

FOLDER = Path(__file__).parents[1] / "demo_inspections"
DEMOS = sorted(FOLDER.glob("*.yaml"))


@cache
def shipped(checklist: str) -> Checklist:
    """Return a shipped checklist."""
    return open_checklist(checklist, Shelves())


@cache
def examined_demo(name: str) -> Examined:
    """Return what follows from a demo inspection."""
    return examine(*open_inspection(FOLDER / f"{name}.yaml", shipped))


@cache
def demo_report(name: str) -> Report:
    """Return the report on a demo inspection."""
    return build(examined_demo(name))
