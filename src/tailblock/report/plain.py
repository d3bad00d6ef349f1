"""Text that a person typed, made fit to be printed, and Markdown that nobody interprets.

In: any text. Out: the same text without control characters; the same text so that no Markdown
reader sees anything in it but its characters.
"""

from __future__ import annotations

import re
import unicodedata

# Kept of the control characters: they are only ways to begin a new line or a new column.
_SPACES = "\t\n"
_SHOWN = "\N{REPLACEMENT CHARACTER}"

# What every reader of Markdown takes as a sign. Entities and not backslashes where some readers
# know no backslash before that sign.
_SIGNS = str.maketrans(
    {sign: f"\\{sign}" for sign in "\\`*_{}[]"}
    | {sign: f"&#{ord(sign)};" for sign in '|~$@^"'}
    | {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
)
# What is a sign only at the start of a line: headings, lists, rules, admonitions, definitions.
_START = re.compile(
    r"^(?:(?P<mark>[#!]|[+-](?=[\s+-]|$))|(?P<odd>[=:])|(?P<number>\d+)(?P<end>[.)])(?=\s|$))"
)
_LINK = re.compile(r"(?P<scheme>[A-Za-z]):(?=//)|(?P<www>[Ww]{3})\.")
_COMMENT_END = re.compile(r"-(?=-)")


def printable(text: str) -> str:
    r"""Return a text with every control character shown as a replacement character.

    Line ends become `\n`; tabs stay. Characters that only reorder others are kept, since the page
    isolates every typed text.

    >>> printable("nut\x07 buzz\r\nat the third fret")
    'nut\ufffd buzz\nat the third fret'
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    unfit = {
        ord(sign): _SHOWN
        for sign in set(text).difference(_SPACES)
        if unicodedata.category(sign) in {"Cc", "Cs", "Cn"}
    }
    return text.translate(unfit) if unfit else text


def lines(text: str) -> tuple[str, ...]:
    """Return the lines of a text that are not empty, without spaces around them."""
    stripped = (line.strip() for line in printable(text).splitlines())
    return tuple(line for line in stripped if line)


def markdown_text(text: str) -> str:
    r"""Return Markdown that shows exactly the characters of a text, on one line.

    Runs of spaces and line ends become one space.

    >>> markdown_text("*loud* [here](http://x.example) 1 < 2")
    '\\*loud\\* \\[here\\](http&#58;//x.example) 1 &lt; 2'
    >>> markdown_text("1. not a list")
    '1\\. not a list'
    """
    text = " ".join(printable(text).split()).translate(_SIGNS)
    text = _LINK.sub(_unlinked, text)
    text = _COMMENT_END.sub("&#45;", text)
    return _START.sub(_started, text)


def _unlinked(found: re.Match[str]) -> str:
    return f"{found['scheme']}&#58;" if found["scheme"] else f"{found['www']}&#46;"


def _started(found: re.Match[str]) -> str:
    if found["mark"]:
        return f"\\{found['mark']}"
    if found["odd"]:
        return f"&#{ord(found['odd'])};"
    return f"{found['number']}\\{found['end']}"
