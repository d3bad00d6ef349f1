"""A report as one HTML file that needs nothing else: no script, no file beside it, no network.

In: a `Report`. Out: the page as text. Every text is escaped; the page forbids itself to load
anything, and its photographs are part of it.
"""

from __future__ import annotations

from functools import cache
from itertools import count
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

from tailblock.messages import _
from tailblock.report import templating
from tailblock.report.conventions import speaking
from tailblock.report.pictures.change import MARKS, change_picture
from tailblock.report.pictures.evidence import evidence_picture
from tailblock.report.pictures.gauge import gauge_picture, key_picture
from tailblock.report.pictures.hours import hours_picture
from tailblock.report.pictures.instrument.draw import instrument
from tailblock.report.pictures.neck_line import neck_line
from tailblock.report.plain import printable

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from jinja2 import Environment

    from tailblock.report.model import Copy, Report
    from tailblock.report.pictures.picture import Picture


def to_html(report: Report, *, copy: Copy = "bench", templates: Path | None = None) -> str:
    """Return a copy of a report as a self-contained page for the screen and for A4 or Letter.

    Parameters
    ----------
    templates
        A shop's folder of templates that take the place of ours.

    Raises
    ------
    BrokenTemplate
        One of those cannot be used.
    """
    with speaking(report.conventions):
        return templating.render(
            _environment(templates),
            "report.html.j2",
            templates,
            report=report,
            copy=copy,
            drawn=_drawn(),
            change_picture=change_picture,
            MARKS=_(MARKS),
            evidence_picture=evidence_picture,
            gauge_picture=gauge_picture,
            key_picture=key_picture,
            hours_picture=hours_picture,
            instrument=instrument,
            neck_picture=neck_line,
        )


def _drawn() -> Callable[[Picture], Markup]:
    """Return what sets a picture into one page: each gets ids of its own."""
    numbers = count(1)
    return lambda picture: picture.inline(f"picture-{next(numbers)}")


@cache
def _environment(folder: Path | None) -> Environment:
    return templating.environment(_shown, folder, autoescape=True)


def _shown(value: object) -> object:
    """Escape every text, and show control characters as such."""
    if isinstance(value, str) and not isinstance(value, Markup):
        return escape(printable(value))
    return value
