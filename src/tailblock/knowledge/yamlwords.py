"""What a YAML parser complains of, said so that a person can mend it.

In: the parser's error and the text. Out: a message and the mend, and the place.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import yaml

_QUOTE = "put the whole text in quotes"
_QUOTE_OR_CLOSE = f"look at this line and those before it: {_QUOTE}, or close what is open"

# A part of the parser's own words (of libyaml or of its Python twin), our message, our mend.
_SAID: tuple[tuple[str, str, str], ...] = (
    (r"mapping values are not allowed", "a colon inside a text", _QUOTE),
    (
        r"',' or '}'",
        "a colon, a quote or a # inside a text in braces, or the closing brace is missing",
        _QUOTE_OR_CLOSE,
    ),
    (
        r"',' or '\]'",
        "a colon, a quote or a # inside a text in brackets, or the closing bracket is missing",
        _QUOTE_OR_CLOSE,
    ),
    (r"unexpected end of stream", "a quote is opened and never closed", "close it"),
    (r"document separator", "a quote is opened and never closed", "close it"),
    (
        r"expected alphabetic or numeric",
        "a text begins with * or &, which have a meaning in YAML",
        _QUOTE,
    ),
    (r"unknown escape", "a backslash in double quotes", "use single quotes"),
    (r"nesting depth", "far too many lists and mappings within one another", "split the file"),
    (r"could not find expected ':'", "a field needs a colon and a space after its name", ""),
    (
        r"(did not find expected key|expected <block end>|expected '-' indicator)",
        "the line does not fit in here",
        "check its indentation, and that a text in quotes ends with its quote",
    ),
    (
        r"block (sequence entries|mapping)s? (are|is) not allowed",
        "a list or mapping cannot begin here",
        "begin it on a new line",
    ),
    (r"block sequence entries are not allowed", "a list cannot begin here", "begin a new line"),
)


def in_our_words(error: yaml.MarkedYAMLError, text: str) -> tuple[str, str]:
    """Return a message and a mend for a syntax error."""
    sign = _sign_at(error, text)
    if sign == "\t" or "tab character" in str(error.problem):
        return "a tab", "use spaces to indent"
    if "cannot start any token" in str(error.problem):
        return f"a text begins with {sign}, which has a meaning in YAML", _QUOTE
    for pattern, message, mend in _SAID:
        if re.search(pattern, str(error.problem)):
            return message, mend
    return f"this is not YAML: {error.problem}", "check quotes, colons and indentation"


def place_of_error(error: yaml.MarkedYAMLError, text: str) -> tuple[int, int]:
    """Return line and column of a syntax error, counted from 0.

    What is never closed is noticed at the end of the text; the place is then where it was opened.
    """
    mark = error.problem_mark
    if mark is None or (error.context_mark is not None and not text[mark.index :].strip()):
        mark = error.context_mark
    return (mark.line, mark.column) if mark else (0, 0)


def _sign_at(error: yaml.MarkedYAMLError, text: str) -> str:
    """Return the character that the parser stopped at."""
    mark = error.problem_mark
    lines = text.splitlines()
    if mark is None or mark.line >= len(lines):
        return ""
    return lines[mark.line][mark.column : mark.column + 1]
