"""Tailblock: guided inspection of fretted instruments.

In: checklists and inspection files. Out: probable causes, the next check, a graded report. The
names below are the public ones; each is loaded when it is first used (PEP 562), so that importing
the package costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tailblock.advice import Advice, CauseBelief
    from tailblock.api import (
        InspectionFile,
        begin_inspection,
        open_checklist,
        open_inspection,
    )
    from tailblock.errors import Problem, ProblemsFound, TailblockError
    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.library import Shelves
    from tailblock.knowledge.loader import load
    from tailblock.measures import parse, show
    from tailblock.measures.figures import evaluate
    from tailblock.pipeline import Examined, examine
    from tailblock.report.build import build
    from tailblock.report.model import Report
    from tailblock.report.to_html import to_html
    from tailblock.report.to_json import to_json
    from tailblock.report.to_markdown import to_markdown

_HOME = {
    "Advice": "advice",
    "CauseBelief": "advice",
    "Checklist": "knowledge.checklist",
    "Examined": "pipeline",
    "Inspection": "inspection.record",
    "InspectionFile": "api",
    "Problem": "errors",
    "ProblemsFound": "errors",
    "Report": "report.model",
    "Shelves": "knowledge.library",
    "TailblockError": "errors",
    "begin_inspection": "api",
    "build": "report.build",
    "evaluate": "measures.figures",
    "examine": "pipeline",
    "load": "knowledge.loader",
    "open_checklist": "api",
    "open_inspection": "api",
    "parse": "measures",
    "show": "measures",
    "to_html": "report.to_html",
    "to_json": "report.to_json",
    "to_markdown": "report.to_markdown",
}

__all__ = [
    "Advice",
    "CauseBelief",
    "Checklist",
    "Examined",
    "Inspection",
    "InspectionFile",
    "Problem",
    "ProblemsFound",
    "Report",
    "Shelves",
    "TailblockError",
    "__version__",
    "begin_inspection",
    "build",
    "evaluate",
    "examine",
    "load",
    "open_checklist",
    "open_inspection",
    "parse",
    "show",
    "to_html",
    "to_json",
    "to_markdown",
]


def __getattr__(name: str) -> Any:
    if name == "__version__":
        return import_module("importlib.metadata").version("tailblock")
    if name not in _HOME:
        raise AttributeError(f"module 'tailblock' has no attribute {name!r}")
    return getattr(import_module(f"tailblock.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
