"""Templates that make Markdown.

In: nothing. Out: an environment in which every text is escaped for Markdown but `Markup`, which is
Markdown already.
"""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from tailblock.report.plain import markdown_text


@cache
def environment() -> Environment:
    """Return the environment; it finds the templates of this package."""
    return Environment(
        loader=PackageLoader("tailblock.report"),
        autoescape=False,  # noqa: S701  HTML escaping would show entities; finalize escapes instead
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_escaped,
    )


def _escaped(value: object) -> object:
    plain = isinstance(value, str) and not isinstance(value, Markup)
    return markdown_text(str(value)) if plain else value
