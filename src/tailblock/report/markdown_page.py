"""Templates that make Markdown.

In: a shop's folder of templates, or none. Out: an environment in which every text is escaped for
Markdown but `Markup`, which is Markdown already.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.report import templating
from tailblock.report.plain import markdown_text

if TYPE_CHECKING:
    from pathlib import Path

    from jinja2 import Environment


@cache
def environment(folder: Path | None = None) -> Environment:
    """Return the environment; HTML escaping is off, it would show entities."""
    return templating.environment(_escaped, folder, autoescape=False)


def _escaped(value: object) -> object:
    plain = isinstance(value, str) and not isinstance(value, Markup)
    return markdown_text(str(value)) if plain else value
