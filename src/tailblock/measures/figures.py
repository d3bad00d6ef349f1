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
from tailblock.measures.rows import action, beams, body, bridge, frets, neck, strings, wood
from tailblock.measures.rows.row import Figure
from tailblock.measures.uncertainty import propagate

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["FIGURES", "Figure", "UnknownFigure", "WrongArguments", "evaluate"]

REGIONS = (bridge, beams, body, neck, action, wood, strings, frets)

FIGURES: Mapping[str, Figure] = MappingProxyType(
    {figure.name: figure for region in REGIONS for figure in region.ROWS}
)


class UnknownFigure(TailblockError, ValueError):
    """No figure has that name."""

    def __init__(self, name: str) -> None:
        self.name = name
        near = get_close_matches(name, FIGURES)
        those = f"nearest: {', '.join(near)}" if near else f"there are {', '.join(FIGURES)}"
        super().__init__(f"{name!r} is not a figure; {those}")


class WrongArguments(TailblockError, ValueError):
    """A figure got an argument it does not know, or lacks one."""

    def __init__(self, figure: Figure, missing: set[str], unknown: set[str]) -> None:
        self.figure, self.missing, self.unknown = figure, missing, unknown
        lacks = f"lacks {', '.join(sorted(missing))}" if missing else ""
        odd = f"does not know {', '.join(sorted(unknown))}" if unknown else ""
        said = " and ".join(filter(None, (lacks, odd)))
        super().__init__(f"{figure.name} {said}; it takes {', '.join(figure.arguments)}")


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

    >>> read = {"projection": -1.8, "belly": 5.0, "dome": 2.2}
    >>> value, u = evaluate("aim_without_hump", read, {"projection": 0.26, "belly": 0.31})
    >>> round(value, 2), round(u, 2)  # worked here: u^2 = 0.26^2 + (0.6 x 0.31)^2 + (0.2 x 2.8)^2
    (-0.12, 0.64)
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
    spread = {arg: step for arg, (_, step) in taken.items()} | dict(u)
    return propagate(figure.function, full, spread)
