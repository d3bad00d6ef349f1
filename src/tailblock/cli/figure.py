"""`figure`: one formula of the bench by name, with the values that a person gives.

In: a name and values as NAME=VALUE, with their spread if known. Out: formula, values, result.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.options import Json

if TYPE_CHECKING:
    from tailblock.measures import Figure

_SPREAD = re.compile(r"\s*(?:±|\+/?-)\s*")  # `-1.8 mm ± 0.3 mm`, `-1.8+-0.3`


def figure(
    name: Annotated[
        str,
        typer.Argument(
            metavar="[NAME]",
            help="The name of a figure; none lists them all.",
            show_default=False,
        ),
    ] = "",
    values: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[NAME=VALUE]...",
            help="Its arguments, as relief=0.3mm or 'relief=0.3 mm ± 0.05 mm'.",
            show_default=False,
        ),
    ] = None,
    as_json: Json = False,
) -> None:
    """Work out a figure, and say how uncertain it is."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.measures import FIGURES, Quantity, UnknownFigure, WrongArguments, evaluate, show

    screen = Screen()
    if not name:
        if as_json:
            print_data({"figures": [_described(row) for row in FIGURES.values()]})
            return
        for row in FIGURES.values():
            screen.say(f"{row.name}  {' '.join(row.required)}", "title")
            screen.say(f"{row.formula}  [{row.source}]", indent=2)
        return
    if name not in FIGURES:
        raise UnknownFigure(name)
    row = FIGURES[name]
    given = _given(row, values)
    if unknown := set(given) - set(row.arguments):
        raise WrongArguments(row, set(), unknown)
    numbers = {arg: value for arg, (value, _) in given.items()}
    spreads = {arg: spread for arg, (_, spread) in given.items() if spread}
    result, u = evaluate(name, numbers, spreads)
    used = {arg: (*row.assumed[arg], True) for arg in row.assumed if arg not in given}
    used |= {arg: (*pair, False) for arg, pair in given.items()}
    if as_json:
        arguments = [
            {"name": arg, "dimension": row.arguments[arg], "value": value, "u": spread,
             "assumed": assumed}
            for arg, (value, spread, assumed) in used.items()
        ]  # fmt: skip
        print_data({**_described(row), "arguments": arguments, "value": result, "u": u})
        return
    screen.say(row.name, "title")
    screen.say(f"{row.formula}  [{row.source}]", indent=2)
    for arg, (value, spread, assumed) in used.items():
        shown = show(Quantity(value, row.arguments[arg]))
        mark = ", assumed" if assumed else ""
        screen.say(f"{arg} = {shown}{_plus_minus(spread, row.arguments[arg])}{mark}", indent=2)
    screen.say(f"= {show(Quantity(result, row.result))}{_plus_minus(u, row.result)}", "title")


def _given(row: Figure, values: list[str] | None) -> dict[str, tuple[float, float]]:
    """Return value and standard uncertainty of each argument, in base units."""
    from tailblock.cli.options import pairs
    from tailblock.measures import WrongArguments, parse

    found = {}
    for arg, text in pairs("value", values, "relief=0.3mm").items():
        if arg not in row.arguments:
            raise WrongArguments(row, set(), {arg})
        dimension = row.arguments[arg]
        value, *spread = _SPREAD.split(text, maxsplit=1)
        unit = _base_unit(dimension)
        u = parse(spread[0], dimension, unit, difference=True).quantity.value if spread else 0.0
        found[arg] = (parse(value, dimension, unit).quantity.value, abs(u))
    return found


def _described(row: Figure) -> dict[str, Any]:
    return {
        "figure": row.name,
        "formula": row.formula,
        "source": row.source,
        "required": list(row.required),
        "result": row.result,
    }


def _base_unit(dimension: str) -> str:
    from tailblock.measures.definitions import UNITS

    return next(
        unit.name
        for unit in UNITS
        if unit.dimension == dimension and unit.factor == 1 and not unit.offset
    )


def _plus_minus(spread: float, dimension: str) -> str:
    """Write a standard uncertainty; a spread of temperature has no zero to shift."""
    from tailblock.measures import Quantity, show

    if not spread:
        return ""
    if dimension == "temperature":
        return f" ± {spread:.1f} °C"
    return f" ± {show(Quantity(spread, dimension))}"
