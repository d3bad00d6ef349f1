"""Locales by their tags: which there are, and what their countries use.

In: a tag of BCP 47, as `de-DE`. Out: its territory; or that CLDR does not know it. The library that
knows the locales is loaded only where a shop names one.
"""

from __future__ import annotations

from tailblock.errors import TailblockError
from tailblock.knowledge.mending import nearest

# From the supplemental data of CLDR, on systems of measurement and sizes of paper (from memory).
INCH_FIRST = frozenset({"US", "LR", "MM"})
ON_LETTER = frozenset(
    {"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}
)


class UnknownLocale(TailblockError):
    """CLDR knows no locale of that tag."""

    def __init__(self, tag: str, mend: str) -> None:
        self.tag, self.mend = tag, mend
        super().__init__(f"`{tag}` is no locale that is known")


def territory_of(tag: str) -> str:
    """Return the territory of a locale, empty if its tag names none.

    >>> territory_of("de-CH"), territory_of("fr")
    ('CH', '')

    Raises
    ------
    UnknownLocale
    """
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415  (see the head of this module)
    from babel.localedata import locale_identifiers  # noqa: PLC0415

    known = [name.replace("_", "-") for name in locale_identifiers()]
    try:
        found = Locale.parse(tag, sep="-")
    except (ValueError, UnknownLocaleError):
        found = None
    # a part that it does not know is passed over
    if found is None or not {*tag.lower().split("-")} <= {*str(found).lower().split("_")}:
        raise UnknownLocale(tag, nearest(tag, known) or "write it like de-DE or en-US")
    return found.territory or ""
