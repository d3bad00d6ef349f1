"""The report: what was concluded, said so that a player and a repairer can use it.

In: `Examined` (a visit with everything that was concluded from it). Out: `Report`, content without
markup, and from there HTML, Markdown or JSON. May import everything below `pipeline`; knows no
clock, no file of the user and no terminal.
"""

from __future__ import annotations

from tailblock.report.build import build
from tailblock.report.examined import Examined
from tailblock.report.model import Report
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown

__all__ = ["Examined", "Report", "build", "to_html", "to_json", "to_markdown"]
