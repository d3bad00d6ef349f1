"""One row of the table of figures.

In: a function of `measures`, the names of its arguments, its formula and its source as text. Out: a
`Figure`. Here too are the sources that more than one region names.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.measures.rows.arguments import ASSUMED, DIMENSIONS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"
GEOMETRY = "geometry"
WOOD_HANDBOOK = "Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)"


@dataclass(frozen=True, slots=True)
class Figure:
    """A formula: its function, the dimensions of arguments and result, its text and source.

    `assumed` holds value and standard uncertainty of the arguments that may be left out.
    """

    name: str
    function: Callable[..., float]
    arguments: Mapping[str, str]
    result: str
    formula: str
    source: str
    assumed: Mapping[str, tuple[float, float]]

    @property
    def required(self) -> tuple[str, ...]:
        """Return the arguments that must be given."""
        return tuple(name for name in self.arguments if name not in self.assumed)


def row(
    function: Callable[..., float],
    arguments: str,
    formula: str,
    source: str,
    *,
    result: str = "length",
    each: str = "length",
) -> Figure:
    """Make a row; an argument is of dimension `each` unless its name stands in `DIMENSIONS`."""
    names = arguments.split()
    return Figure(
        name=function.__name__,
        function=function,
        arguments=MappingProxyType({name: DIMENSIONS.get(name, each) for name in names}),
        result=result,
        formula=formula,
        source=source,
        assumed=MappingProxyType({name: ASSUMED[name] for name in names if name in ASSUMED}),
    )
