"""One row of the table of figures.

In: a function of `measures`, the names of its arguments, its steps in the notation of `notation`,
its source as text. Out: a `Figure`. Here too are the sources that more than one region names.
"""

from __future__ import annotations

import inspect
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.measures.notation import in_words, names_in
from tailblock.measures.rows.arguments import ASSUMED, DIMENSIONS, STEPS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"
GEOMETRY = "geometry"
WOOD_HANDBOOK = "Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)"


@dataclass(frozen=True, slots=True)
class Figure:
    """A formula: its function, the dimensions of arguments and result, its steps and source.

    `steps` are what stands on paper between arguments and result: symbol and expression, each after
    those it needs, the last one the result under the figure's own name. `units` gives each symbol
    its dimension, or a unit that is none of ours. `assumed` holds value and standard uncertainty of
    the arguments that may be left out.
    """

    name: str
    function: Callable[..., float]
    arguments: Mapping[str, str]
    result: str
    steps: Mapping[str, str]
    units: Mapping[str, str]
    source: str
    assumed: Mapping[str, tuple[float, float]]

    @property
    def required(self) -> tuple[str, ...]:
        """Return the arguments that must be given."""
        return tuple(name for name in self.arguments if name not in self.assumed)

    @property
    def formula(self) -> str:
        """Return the formula in words: the result first, then what the symbols in it stand for."""
        *defined, (_, result) = self.steps.items()
        meant = (f"{symbol} = {in_words(text)}" for symbol, text in reversed(defined))
        return ", ".join((in_words(result), *(text.replace("_", " ") for text in meant)))

    @property
    def about(self) -> str:
        """Return what the figure is, from the first line of its function's docstring."""
        first, *_ = (inspect.getdoc(self.function) or "").partition("\n\n")
        return " ".join(first.removeprefix("Return ").removeprefix("Estimate ").split()).rpartition(
            " ["
        )[0]


def row(
    function: Callable[..., float],
    arguments: str,
    steps: str,
    source: str,
    *,
    result: str = "length",
    each: str = "length",
) -> Figure:
    """Make a row.

    Parameters
    ----------
    function
        Its name is the figure's.
    arguments
        Their names; one is of dimension `each` unless its name stands in `DIMENSIONS`.
    steps
        The result, then after semicolons `symbol = expression` for what it needs, in any order. A
        symbol is of dimension `each` unless it stands in `STEPS`.
    source
        Of the formula.
    """
    names = arguments.split()
    ordered = _in_order(function.__name__, steps)
    return Figure(
        name=function.__name__,
        function=function,
        arguments=MappingProxyType({name: DIMENSIONS.get(name, each) for name in names}),
        result=result,
        steps=MappingProxyType(ordered),
        units=MappingProxyType(
            {symbol: STEPS.get(symbol, each) for symbol in ordered} | {function.__name__: result}
        ),
        source=source,
        assumed=MappingProxyType({name: ASSUMED[name] for name in names if name in ASSUMED}),
    )


def _in_order(name: str, steps: str) -> dict[str, str]:
    """Return the steps by symbol, each after those that it needs."""
    result, *rest = steps.split(";")
    parts = (text.partition(" = ") for text in rest)
    defined = {symbol.strip(): expression.strip() for symbol, _, expression in parts}
    ordered: dict[str, str] = {}

    def take(symbol: str, expression: str) -> None:
        for needed in names_in(expression):
            if needed in defined and needed not in ordered:
                take(needed, defined[needed])
        ordered[symbol] = expression

    take(name, result.strip())
    return ordered
