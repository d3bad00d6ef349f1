"""Plain data written as YAML, in the few forms that an inspection file uses.

In: `Data` (texts, lists, mappings) or the fields of `model`. Out: text that reads back as the same
data; scalars are left bare where that is safe and stand in double quotes otherwise.
"""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.inspection.model import Fields
    from tailblock.knowledge.yamlmarks import Data

# Words, numbers with units and times; nothing that YAML gives a meaning to.
_BARE = re.compile(
    r"""-?[A-Za-z0-9.][A-Za-z0-9 ./%+_()°"'-]*|\d{4}-\d\d-\d\dT[0-9:.+-]+""", re.ASCII
)
_MEANS_NOTHING = frozenset({"null", "Null", "NULL"})
_NOT_AS_IS = re.compile("[\x85\u2028\u2029\ufeff]")  # ends of lines and marks, in some eyes
_NEVER = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


class ControlCharacter(TailblockError):
    """A text holds a character that no file may hold, most often from a key such as an arrow."""

    def __init__(self, text: str, character: str) -> None:
        self.text, self.character = text, character
        super().__init__(
            f"{text!r} holds the control character U+{ord(character):04X}, which may not stand in "
            "a text (write it again without)"
        )


def plain(fields: Fields) -> dict[str, Data]:
    """Return fields as data: everything a text, and what was not given left out."""
    dumped = fields.model_dump(mode="json", exclude_defaults=True)
    return {name: _as_text(value) for name, value in dumped.items()}


def _as_text(value: object) -> Data:
    if isinstance(value, dict):
        return {name: _as_text(below) for name, below in value.items()}
    if isinstance(value, list):
        return [_as_text(item) for item in value]
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:g}" if isinstance(value, float) else str(value)


def scalar(text: str) -> str:
    """Write a text so that it reads back as the same characters.

    Raises
    ------
    ControlCharacter

    >>> scalar("7/64 in"), scalar("could not reach, too dark: no")
    ('7/64 in', '"could not reach, too dark: no"')
    """
    if _BARE.fullmatch(text) and not text.endswith(" ") and text not in _MEANS_NOTHING:
        return text
    never = _NEVER.search(text)
    if never:
        raise ControlCharacter(text, never[0])
    quoted = json.dumps(text, ensure_ascii=False)
    return _NOT_AS_IS.sub(lambda found: f"\\u{ord(found[0]):04x}", quoted)


def flow(data: Data) -> str:
    """Write data on one line.

    >>> flow({"check": "top-tap", "photos": ["a.jpg"]})
    '{check: top-tap, photos: [a.jpg]}'
    """
    if isinstance(data, dict):
        return (
            "{" + ", ".join(f"{scalar(name)}: {flow(value)}" for name, value in data.items()) + "}"
        )
    if isinstance(data, list):
        return "[" + ", ".join(map(flow, data)) + "]"
    return "" if data is None else scalar(data)


def field(name: str, value: Data) -> Iterator[str]:
    """Yield the lines of one field of a block mapping, lists of mappings with an item a line."""
    if isinstance(value, list) and value and isinstance(value[0], dict):
        yield f"{name}:"
        yield from (f"  - {flow(item)}" for item in value)
    else:
        yield f"{name}: {flow(value)}"


def block(data: dict[str, Data]) -> Iterator[str]:
    """Yield the lines of a block mapping."""
    for name, value in data.items():
        yield from field(name, value)


def item(data: dict[str, Data]) -> Iterator[str]:
    """Yield the lines of a block mapping as an item of a block list."""
    for number, line in enumerate(block(data)):
        yield f"  {line}" if number else f"- {line}"
