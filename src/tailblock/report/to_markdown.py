"""A report as Markdown: the same content in a form that a person reads as it is.

In: a `Report`. Out: Markdown. Every text is escaped, so that a note that looks like Markdown or
HTML stays a note.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from jinja2 import Environment, PackageLoader, StrictUndefined

from tailblock.report import wording
from tailblock.report.plain import lines, markdown_text

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report


def to_markdown(report: Report, *, copy: Copy = "bench") -> str:
    """Return a copy of a report as Markdown with tables."""
    page = _environment().get_template("report.md.j2")
    return page.render(report=report, copy=copy, words=wording, lines=lines)


@cache
def _environment() -> Environment:
    """Return an environment in which every value passes through `markdown_text`."""
    return Environment(
        loader=PackageLoader("tailblock.report"),
        autoescape=False,  # noqa: S701  HTML escaping would show entities; finalize escapes instead
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_escaped,
    )


def _escaped(value: object) -> object:
    return markdown_text(value) if isinstance(value, str) else value
