"""The words of the interface in another language: where every message passes through.

In: a message as it stands in the source, in English. Out: the same in the language that is spoken,
by a catalogue of gettext; without a catalogue it is the message itself. What a checklist says and
what a person typed are no messages.

The usual names of gettext: `_` translates, `ngettext` chooses between one and many, `N_` marks a
message that is translated where it is used. Placeholders are those of `str.format`, with names.
"""

from __future__ import annotations

from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Iterator


class Translations(Protocol):
    """What a catalogue can do; `gettext.NullTranslations` and its kin can."""

    def gettext(self, message: str) -> str:
        """Return a message in the language of the catalogue."""
        ...

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Return the message for so many of something."""
        ...


_CATALOGUE: ContextVar[Translations | None] = ContextVar("catalogue", default=None)


@contextmanager
def spoken(catalogue: Translations | None) -> Iterator[None]:
    """Let the messages within be those of a catalogue; None for English."""
    before = _CATALOGUE.set(catalogue)
    try:
        yield
    finally:
        _CATALOGUE.reset(before)


def _(message: str) -> str:
    """Return a message in the language that is spoken; an empty one stays empty."""
    catalogue = _CATALOGUE.get()
    return catalogue.gettext(message) if catalogue and message else message


def ngettext(one: str, many: str, number: int) -> str:
    """Return the message for one thing, or that for many, as the language counts."""
    catalogue = _CATALOGUE.get()
    if catalogue:
        return catalogue.ngettext(one, many, number)
    return one if number == 1 else many


def N_(message: str) -> str:  # noqa: N802  the name by which gettext's tools know it
    """Mark a message that is translated where it is used."""
    return message
