"""Physics and units as pure functions.

In: texts such as `7/64 in`, and plain numbers in base units (mm, degree, %, degree Celsius, g, N,
cent, 1, hour) with their standard uncertainties. Out: the same. Nothing here knows a checklist, an
instrument or a file. May import: the standard library and `tailblock.errors`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

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

if TYPE_CHECKING:
    from tailblock.measures.figures import (
        FIGURES,
        REGIONS,
        Figure,
        NoAnswer,
        UnknownFigure,
        WrongArguments,
        evaluate,
    )
    from tailblock.measures.working import Working, work_out

__all__ = [
    "FIGURES",
    "REGIONS",
    "Figure",
    "NoAnswer",
    "NotAQuantity",
    "OutOfRange",
    "Parsed",
    "Quantity",
    "UnitDoesNotFit",
    "UnitError",
    "UnitMissing",
    "UnknownFigure",
    "UnknownUnit",
    "Working",
    "WrongArguments",
    "both_systems",
    "days",
    "evaluate",
    "gauge_uncertainty",
    "level_likelihoods",
    "parse",
    "parse_duration",
    "propagate",
    "reported_given_level",
    "show",
    "work_out",
]

# The table of figures and the working of them are long to import, and most commands want neither.
_LATER = {
    "figures": ("FIGURES", "REGIONS", "Figure", "NoAnswer", "UnknownFigure", "WrongArguments",
                "evaluate"),
    "working": ("Working", "work_out"),
}  # fmt: skip


def __getattr__(name: str) -> object:
    """Return what is imported only when it is asked for."""
    for module, names in _LATER.items():
        if name in names:
            return getattr(import_module(f"tailblock.measures.{module}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
