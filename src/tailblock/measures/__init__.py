"""Physics and units as pure functions.

In: texts such as `7/64 in`, and plain numbers in base units (mm, degree, %, degree Celsius, g, N,
cent, 1, hour) with their standard uncertainties. Out: the same. Nothing here knows a checklist, an
instrument or a file. May import: the standard library, numpy and `tailblock.errors`.
"""

from __future__ import annotations

from tailblock.measures.units import (
    NotAQuantity,
    Parsed,
    Quantity,
    UnitDoesNotFit,
    UnitError,
    UnitMissing,
    UnknownUnit,
    both_systems,
    days,
    parse,
    parse_duration,
    show,
)

__all__ = [
    "NotAQuantity",
    "Parsed",
    "Quantity",
    "UnitDoesNotFit",
    "UnitError",
    "UnitMissing",
    "UnknownUnit",
    "both_systems",
    "days",
    "parse",
    "parse_duration",
    "show",
]
