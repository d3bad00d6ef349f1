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

# Signs that reorder what follows, each with the one that ends it: Unicode Standard Annex 9, 2.
_POP, _POP_ISOLATE = "\u202c", "\u2069"
_OPENS = dict.fromkeys("\u202a\u202b\u202d\u202e", _POP) | dict.fromkeys(
    "\u2066\u2067\u2068", _POP_ISOLATE
)
_REORDERS = re.compile("[\u202a-\u202e\u2066-\u2069]")

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

    Line ends become `\n`; tabs stay. Characters that reorder others are kept within their line:
    what one begins is ended with the line; one that ends what never began is shown as such.

    >>> printable("nut\x07 buzz\r\nat the third fret")
    'nut\ufffd buzz\nat the third fret'
    >>> printable("\u202eback\nfront\u2069") == "\u202eback\u202c\nfront\ufffd"
    True
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    odd = {
        ord(sign): _SHOWN
        for sign in set(text)
        if sign not in _SPACES and unicodedata.category(sign) in {"Cc", "Cs", "Cn"}
    }
    text = text.translate(odd) if odd else text
    return "\n".join(map(_closed, text.split("\n"))) if _REORDERS.search(text) else text


def _closed(line: str) -> str:
    """Return a line that ends what it begins of reordering: Unicode Standard Annex 9, BD9, BD11."""
    waiting: list[str] = []  # what ends each thing that was begun, the innermost last

    def checked(found: re.Match[str]) -> str:
        sign = found[0]
        if sign in _OPENS:
            waiting.append(_OPENS[sign])
        elif sign not in waiting[-1:] and (sign == _POP or _POP_ISOLATE not in waiting):
            return _SHOWN
        else:
            while waiting.pop() != sign:
                pass  # the end of an isolate ends what was begun within it
        return sign

    return _REORDERS.sub(checked, line) + "".join(reversed(waiting))


def markdown_text(text: str) -> str:
    r"""Return Markdown that shows exactly the characters of a text, on one line.

    Runs of spaces and line ends become one space.

    >>> markdown_text("*loud* [here](http://x.example) 1 < 2")
    '\\*loud\\* \\[here\\](http&#58;//x.example) 1 &lt; 2'
    >>> markdown_text("1. not a list")
    '1\\. not a list'
    """
    return _START.sub(_started, _without_signs(" ".join(printable(text).split())))


def markdown_quote(text: str) -> str:
    r"""Return Markdown that quotes the lines of a text that are not empty, each as a paragraph.

    >>> markdown_quote("*old* glue\n\n# at the back")
    '> \\*old\\* glue\n\n> \\# at the back'
    """
    found = (" ".join(line.split()) for line in _without_signs(printable(text)).splitlines())
    return "\n\n".join(f"> {_START.sub(_started, line)}" for line in found if line)


def _without_signs(text: str) -> str:
    """Return a text without what is a sign anywhere in a line."""
    return _COMMENT_END.sub("&#45;", _LINK.sub(_unlinked, text.translate(_SIGNS)))


def _unlinked(found: re.Match[str]) -> str:
    return f"{found['scheme']}&#58;" if found["scheme"] else f"{found['www']}&#46;"


def _started(found: re.Match[str]) -> str:
    if found["mark"]:
        return f"\\{found['mark']}"
    if found["odd"]:
        return f"&#{ord(found['odd'])};"
    return f"{found['number']}\\{found['end']}"
