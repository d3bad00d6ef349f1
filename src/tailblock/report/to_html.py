"""A report as one HTML file that needs nothing else: no script, no file beside it, no network.

In: a `Report`. Out: the page as text. Every text is escaped; the page forbids itself to load
anything, and its photographs are part of it.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from itertools import count
from typing import TYPE_CHECKING

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from tailblock.report import wording
from tailblock.report.pictures.change import MARKS, change_picture
from tailblock.report.pictures.evidence import evidence_picture
from tailblock.report.pictures.gauge import gauge_picture, key_picture
from tailblock.report.pictures.hours import hours_picture
from tailblock.report.pictures.instrument.draw import instrument
from tailblock.report.pictures.neck_line import neck_line
from tailblock.report.plain import printable

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.report.model import Copy, Photo, Report
    from tailblock.report.pictures.picture import Picture


def to_html(report: Report, *, copy: Copy = "bench") -> str:
    """Return a copy of a report as a self-contained page for the screen and for A4 or Letter."""
    page = _environment().get_template("report.html.j2")
    return page.render(
        report=report,
        copy=copy,
        drawn=_drawn(),
        change_picture=change_picture,
        MARKS=MARKS,
        evidence_picture=evidence_picture,
        gauge_picture=gauge_picture,
        key_picture=key_picture,
        hours_picture=hours_picture,
        instrument=instrument,
        neck_picture=neck_line,
        words=wording,
        data_uri=_data_uri,
    )


def _drawn() -> Callable[[Picture], Markup]:
    """Return what sets a picture into one page: each gets ids of its own."""
    numbers = count(1)
    return lambda picture: picture.inline(f"picture-{next(numbers)}")


def _data_uri(photo: Photo) -> Markup:
    """Return a picture as an address that holds it: RFC 2397."""
    return Markup("data:image/jpeg;base64,") + b64encode(photo.jpeg).decode()


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
