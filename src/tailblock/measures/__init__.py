"""Physics and units as pure functions.

In: texts such as `7/64 in`, and plain numbers in base units (mm, degree, %, degree Celsius, g, N,
cent, 1, hour) with their standard uncertainties. Out: the same. Nothing here knows a checklist, an
instrument or a file. May import: the standard library and `tailblock.errors`.

The table of figures (`figures`) and their steps (`working`) are imported from their own modules:
they are long to import, and most commands want neither.
"""

from __future__ import annotations

from tailblock.measures.limits import OutOfRange
from tailblock.measures.uncertainty import (
    gauge_uncertainty,
    level_likelihoods,
    propagate,
    reported_given_level,
)
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
    "OutOfRange",
    "Parsed",
    "Quantity",
    "UnitDoesNotFit",
    "UnitError",
    "UnitMissing",
    "UnknownUnit",
    "both_systems",
    "days",
    "gauge_uncertainty",
    "level_likelihoods",
    "parse",
    "parse_duration",
    "propagate",
    "reported_given_level",
    "show",
]
