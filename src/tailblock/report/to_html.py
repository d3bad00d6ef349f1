"""A report as one HTML file that needs nothing else: no script, no picture, no network.

In: a `Report`. Out: the page as text. Every text is escaped; the page forbids itself to load
anything.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from tailblock.report import wording
from tailblock.report.drawing import WIDTH, strip
from tailblock.report.histogram import HEIGHT as HISTOGRAM_HEIGHT
from tailblock.report.histogram import WIDTH as HISTOGRAM_WIDTH
from tailblock.report.histogram import histogram
from tailblock.report.plain import lines, printable

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report


def to_html(report: Report, *, copy: Copy = "bench") -> str:
    """Return a copy of a report as a self-contained page for the screen and for A4 or Letter."""
    page = _environment().get_template("report.html.j2")
    return page.render(
        report=report,
        copy=copy,
        strip=strip,
        strip_width=WIDTH,
        histogram=histogram,
        histogram_width=HISTOGRAM_WIDTH,
        histogram_height=HISTOGRAM_HEIGHT,
        words=wording,
        lines=lines,
    )


@cache
def _environment() -> Environment:
    """Return an environment that escapes everything and shows control characters as such."""
    return Environment(
        loader=PackageLoader("tailblock.report"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_shown,
    )


def _shown(value: object) -> object:
    if isinstance(value, str) and not isinstance(value, Markup):
        return printable(value)
    return value
