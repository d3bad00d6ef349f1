"""How numbers, days, money and units are written, by the locale of a shop.

In: what the report writes by itself (a decimal point, ISO 8601, millimetres first). Out: the same
as a locale of CLDR has it. Without a locale everything stays as it is, and the library that knows
the locales is not loaded. The locale holds within `speaking`; JSON and CSV are written outside it.
"""

from __future__ import annotations

import re
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from babel import Locale


@dataclass(frozen=True, slots=True)
class Conventions:
    """How numbers, days and money are written.

    `locale` is a tag of BCP 47, or empty for none: a decimal point and days of ISO 8601.
    `inch_first`: of two systems of units inches and pounds come first. `paper` is `A4` or `Letter`.
    """

    locale: str = ""
    inch_first: bool = False
    paper: str = "A4"


_OURS = Conventions()
_SPOKEN: ContextVar[Conventions] = ContextVar("conventions", default=_OURS)
_DECIMAL = re.compile(r"(?<=\d)\.(?=\d)")
_BARE = re.compile(r"(?<![\d.])\.(?=\d)")  # .012 in
_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?)[ \u00a0]%")
_TWO_SYSTEMS = re.compile(r"(?P<first>[^()]+) \((?P<second>[^()]+)\)")


@contextmanager
def speaking(conventions: Conventions) -> Iterator[None]:
    """Let what is written within be written by these conventions."""
    before = _SPOKEN.set(conventions)
    try:
        yield
    finally:
        _SPOKEN.reset(before)


def number(text: str) -> str:
    """Return numbers as we write them with the marks of the locale.

    >>> number("2.5 mm, 40 %")
    '2.5 mm, 40 %'
    >>> with speaking(Conventions("de-DE")):
    ...     number("2.5 mm, .012 in, 40 %").replace("\N{NO-BREAK SPACE}", " ")
    '2,5 mm, 0,012 in, 40 %'
    """
    locale = _locale()
    if locale is None:
        return text
    mark: str = locale.number_symbols["latn"]["decimal"]
    if mark != ".":
        text = _DECIMAL.sub(mark, _BARE.sub(f"0{mark}", text))
    pattern = locale.percent_formats[None]
    before, after = pattern.prefix[0], pattern.suffix[0]
    return str(_PERCENT.sub(lambda found: f"{before}{found[1]}{after}", text))


def grouped(count: int) -> str:
    """Write a large whole number with its thousands apart.

    >>> grouped(20000)
    '20,000'
    """
    locale = _locale()
    if locale is None:
        return f"{count:,}"
    from babel.numbers import format_decimal  # noqa: PLC0415  (see the head of this module)

    return str(format_decimal(count, locale=locale))


def value(text: str) -> str:
    """Return a value in both systems of units, the locale's first and with its marks.

    >>> with speaking(Conventions("en-US", inch_first=True)):
    ...     value("2.78 mm (7/64 in)")
    '7/64 in (2.78 mm)'
    """
    if _SPOKEN.get().inch_first:
        text = _TWO_SYSTEMS.sub(r"\g<second> (\g<first>)", text)
    return number(text)


def day(iso: date | str) -> str:
    """Return a day as the locale writes it in figures; else as ISO 8601 does.

    >>> day("2031-03-02")
    '2031-03-02'
    >>> with speaking(Conventions("de-DE")):
    ...     day(date(2031, 3, 2))
    '2.3.2031'
    """
    locale = _locale()
    if locale is None or not iso:
        return str(iso)
    from babel.dates import format_skeleton  # noqa: PLC0415  (see the head of this module)

    given = date.fromisoformat(iso) if isinstance(iso, str) else iso
    return format_skeleton("yMd", given, locale=locale)


def money(amount: Decimal, currency: str, *, whole: bool) -> str | None:
    """Return an amount as the locale writes it, None without a locale.

    `whole` leaves out what comes after the decimal mark.
    """
    locale = _locale()
    if locale is None:
        return None
    from babel.numbers import format_currency  # noqa: PLC0415  (see the head of this module)

    if not whole:
        return format_currency(amount, currency, locale=locale)
    pattern = locale.currency_formats["standard"].pattern.replace(".00", "")
    return format_currency(amount, currency, pattern, locale=locale, currency_digits=False)


def _locale() -> Locale | None:
    tag = _SPOKEN.get().locale
    return _parsed(tag) if tag else None


@cache
def _parsed(tag: str) -> Locale:
    from babel import Locale  # noqa: PLC0415  (see the head of this module)

    return Locale.parse(tag, sep="-")
