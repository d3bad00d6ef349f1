"""The table of figures: every formula of this folder by name, with its arguments and its source.

In: the name of a figure, values in base units with standard uncertainties. Out: the result with its
standard uncertainty. Constants of a formula (a share, a usual compensation) are arguments that may
be left out: `assumed` says what is then taken and how uncertain it is. The rows stand in `rows`, a
module for each region.
"""

from __future__ import annotations

from difflib import get_close_matches
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.measures.definitions import EXAMPLES
from tailblock.measures.limits import OutOfRange, within
from tailblock.measures.rows import action, beams, body, bridge, frets, neck, strings, wood
from tailblock.measures.rows.arguments import LIKE, LIMITS
from tailblock.measures.rows.row import Figure
from tailblock.measures.uncertainty import propagate

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = [
    "FIGURES",
    "REGIONS",
    "Figure",
    "NoAnswer",
    "UnknownFigure",
    "WrongArguments",
    "evaluate",
]

REGIONS: Mapping[str, tuple[Figure, ...]] = MappingProxyType(
    {
        "bridge": bridge.ROWS,
        "beams": beams.ROWS,
        "body": body.ROWS,
        "neck": neck.ROWS,
        "action": action.ROWS,
        "wood": wood.ROWS,
        "strings": strings.ROWS,
        "frets": frets.ROWS,
    }
)

FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.name: figure for rows in REGIONS.values() for figure in rows}
)


class UnknownFigure(TailblockError, ValueError):
    """No figure has that name."""

    def __init__(self, name: str) -> None:
        self.name = name
        near = get_close_matches(name, FIGURES)
        regions = f"`tailblock figure` lists all {len(FIGURES)}, and {', '.join(REGIONS)} a region"
        if name in REGIONS:
            near, regions = [], f"it is a region: `tailblock figure {name}` lists its figures"
        those = f"nearest: {', '.join(near)}" if near else regions
        super().__init__(f"{name!r} is not a figure; {those}")


class WrongArguments(TailblockError, ValueError):
    """A figure got an argument it does not know, or lacks one."""

    def __init__(self, figure: Figure, missing: set[str], unknown: set[str]) -> None:
        self.figure, self.missing, self.unknown = figure, missing, unknown
        lacks = f"lacks {', '.join(name for name in figure.required if name in missing)}"
        odd = f"does not know {', '.join(sorted(unknown))}{_meant(figure, unknown)}"
        said = " and ".join((lacks,) * bool(missing) + (odd,) * bool(unknown))
        super().__init__(
            f"{figure.name} {said}; it takes {', '.join(figure.arguments)}; write it like "
            f"{example(figure, min(missing, default=next(iter(figure.arguments))))}"
        )


def _meant(figure: Figure, unknown: set[str]) -> str:
    """Return what the unknown arguments may be misspelled from."""
    near = (get_close_matches(name, figure.arguments, n=1) for name in sorted(unknown))
    meant = ", ".join(name for names in near for name in names)
    return f" (did you mean {meant}?)" if meant else ""


def example(figure: Figure, argument: str) -> str:
    """Return how an argument may be given."""
    usual, *_ = EXAMPLES[figure.arguments[argument]][1].split(" or ")
    return f"{argument}='{LIKE.get(argument, usual)}'"


NOT_A_NUMBER = (ArithmeticError, ValueError, TypeError)  # the last of these by a complex root


class NoAnswer(TailblockError, ValueError):
    """A figure does not hold for the values given, or they have no result."""

    def __init__(self, figure: Figure, why: str) -> None:
        self.figure = figure
        super().__init__(f"{figure.name}: {why}")


def evaluate(name: str, values: Mapping[str, float], u: Mapping[str, float]) -> tuple[float, float]:
    """Return a figure and its standard uncertainty, both in the base unit of its result.

    Parameters
    ----------
    name
        One of `FIGURES`.
    values
        Arguments in base units; those with an `assumed` value may be left out.
    u
        Standard uncertainties of the values given; one that is left out is exact.

    Raises
    ------
    UnknownFigure
        No figure has that name.
    WrongArguments
        An argument is missing or unknown.
    OutOfRange
        The formula does not hold for these values.
    NoAnswer
        They have no result: a division by zero, a root of what is negative.

    >>> read = {"projection": -1.8, "belly": 5.0, "dome": 2.2}
    >>> value, u = evaluate("aim_without_hump", read, {"projection": 0.26, "belly": 0.31})
    >>> round(value, 2), round(u, 2)  # worked here: u^2 = 0.26^2 + (0.6 x 0.31)^2 + (0.2 x 2.8)^2
    (-0.12, 0.64)
    """
    figure, full, spread = complete(name, values, u)
    try:
        return propagate(figure.function, full, spread)
    except OutOfRange:
        raise
    except NOT_A_NUMBER as error:
        raise NoAnswer(figure, f"these values have no result ({figure.formula})") from error


def complete(
    name: str, values: Mapping[str, float], u: Mapping[str, float]
) -> tuple[Figure, dict[str, float], dict[str, float]]:
    """Return a figure with all its arguments, those left out as assumed, and their uncertainties.

    Raises
    ------
    UnknownFigure, WrongArguments
    OutOfRange
        An argument has a size that no instrument has, or a size below zero.
    """
    if name not in FIGURES:
        raise UnknownFigure(name)
    figure = FIGURES[name]
    missing = set(figure.required) - set(values)
    unknown = set(values) | set(u)
    unknown -= set(figure.arguments)
    if missing or unknown:
        raise WrongArguments(figure, missing, unknown)
    taken = {arg: figure.assumed[arg] for arg in figure.assumed if arg not in values}
    full = {arg: value for arg, (value, _) in taken.items()} | dict(values)
    for arg in LIMITS.keys() & full.keys():
        within(arg, full[arg], *LIMITS[arg])
    spread = {arg: step for arg, (_, step) in taken.items()} | dict(u)
    return figure, full, spread
