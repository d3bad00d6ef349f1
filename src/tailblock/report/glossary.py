"""The words of the trade that a text uses, each with what it means.

In: a checklist, texts. Out: the glossary of those texts. The meanings are the checklist's: the
player's words of its parts, and the words that it explains with them.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.model import Labelled
from tailblock.report.wording import capital

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tailblock.knowledge.checklist import Checklist


def glossary(checklist: Checklist, texts: Iterable[str]) -> tuple[Labelled, ...]:
    """Return the words that the texts use and the checklist explains, in alphabetical order."""
    used = " ".join(texts)
    found = {word: meaning for word, meaning in _explained(checklist) if _occurs(word, used)}
    return tuple(Labelled(capital(word), meaning) for word, meaning in sorted(found.items()))


def _explained(checklist: Checklist) -> Iterator[tuple[str, str]]:
    """Yield each word with its meaning; a part of several words is known by them, not by name."""
    for part in checklist.parts.values():
        name = part.name.lower()
        if part.plain and " " not in name and name not in part.plain:
            yield name, part.plain
        yield from part.words.items()


def _occurs(word: str, text: str) -> bool:
    """Return whether a word stands in a text, whatever its capitals and its plural."""
    stem = re.escape(word.removesuffix("s"))
    return re.search(_("\\b{stem}(?:s|es)?\\b").format(stem=stem), text, re.IGNORECASE) is not None
