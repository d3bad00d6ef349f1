"""A report as one HTML file that needs nothing else: no script, no picture, no network.

In: a `Report`. Out: the page as text. Every text is escaped; the page forbids itself to load
anything.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from tailblock.report import wording
from tailblock.report.drawing import WIDTH, strip
from tailblock.report.histogram import HEIGHT as HISTOGRAM_HEIGHT
from tailblock.report.histogram import WIDTH as HISTOGRAM_WIDTH
from tailblock.report.histogram import histogram
from tailblock.report.plain import lines, printable

if TYPE_CHECKING:
    from tailblock.report.model import Report

# What stands for itself in a string of CSS, whatever is around it.
_NOT_PLAIN = re.compile(r"[^A-Za-z0-9 ]")

Copy = Literal["player", "bench"]


def to_html(report: Report, *, copy: Copy = "bench", stamp: str = "") -> str:
    """Return a report as a self-contained page for the screen and for paper.

    Parameters
    ----------
    copy
        `bench` for everything, `player` for what the player decides on.
    stamp
        What stands in the margin above the first printed page.
    """
    page = _environment().get_template("report.html.j2")
    return page.render(
        report=report,
        bench=copy == "bench",
        stamp=_in_style(stamp),
        strip=strip,
        strip_width=WIDTH,
        histogram=histogram,
        histogram_width=HISTOGRAM_WIDTH,
        histogram_height=HISTOGRAM_HEIGHT,
        words=wording,
        lines=lines,
    )


def _in_style(text: str) -> Markup:
    r"""Return a text as a string of CSS that no character of it can end.

    >>> _in_style('Job "7"')
    Markup('"Job \\22 7\\22 "')
    """
    escaped = _NOT_PLAIN.sub(lambda match: f"\\{ord(match[0]):x} ", text)
    return Markup(f'"{escaped}"')  # noqa: S704  (letters, digits, escapes)


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
