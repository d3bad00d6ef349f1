"""A report as Markdown: the same content in a form that a person reads as it is.

In: a `Report`. Out: Markdown. Every text is escaped, so that a note that looks like Markdown or
HTML stays a note.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.report.conventions import speaking
from tailblock.report.markdown_page import environment
from tailblock.report.plain import markdown_quote
from tailblock.report.templating import render

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.report.model import Copy, Report


def to_markdown(report: Report, *, copy: Copy = "bench", templates: Path | None = None) -> str:
    """Return a copy of a report as Markdown with tables.

    Parameters
    ----------
    templates
        A shop's folder of templates that take the place of ours.

    Raises
    ------
    BrokenTemplate
        One of those cannot be used.
    """
    made = environment(templates)
    with speaking(report.conventions):
        return render(made, "report.md.j2", templates, report=report, copy=copy, quote=_quote)


def _quote(text: str) -> Markup:
    return Markup(markdown_quote(text))  # noqa: S704  escaped for Markdown, which is what this is
