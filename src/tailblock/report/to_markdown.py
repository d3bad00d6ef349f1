"""A report as Markdown: the same content in a form that a person reads as it is.

In: a `Report`. Out: Markdown. Every text is escaped, so that a note that looks like Markdown or
HTML stays a note.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.report import wording
from tailblock.report.markdown_page import environment
from tailblock.report.plain import markdown_quote

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report


def to_markdown(report: Report, *, copy: Copy = "bench") -> str:
    """Return a copy of a report as Markdown with tables."""
    page = environment().get_template("report.md.j2")
    return page.render(report=report, copy=copy, words=wording, quote=_quote)


def _quote(text: str) -> Markup:
    return Markup(markdown_quote(text))  # noqa: S704  escaped for Markdown, which is what this is
