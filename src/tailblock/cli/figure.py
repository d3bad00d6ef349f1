"""`figure`: one formula of the bench by name, worked out with the values that a person gives.

In: a name and values as NAME=VALUE, with their spread if known; or a region or a word, or nothing.
Out: arguments, steps, result and what makes its uncertainty; or the list of figures.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Any

import typer

from tailblock.cli.options import Json
from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.cli.output import Screen
    from tailblock.measures.figures import Figure
    from tailblock.measures.working import Working

_SPREAD = re.compile(r"\s*(?:±|\+/?-)\s*")  # `-1.8 mm ± 0.3 mm`, `-1.8+-0.3`
_LEAST_SHARE = 0.01  # of the variance; less is not worth naming


class BadValue(TailblockError):
    """What was given for an argument is not what it has to be."""

    def __init__(self, figure: str, argument: str, why: str) -> None:
        self.figure, self.argument = figure, argument
        super().__init__(f"{figure} {argument}: {why}")


def figure(
    name: Annotated[
        str,
        typer.Argument(
            metavar="[NAME]",
            help="A figure; a region or a word lists those that fit, nothing lists them all.",
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
    """Work out a figure step by step, and say how uncertain it is."""
    from tailblock.cli.output import Screen, print_data
    from tailblock.measures.figures import FIGURES, UnknownFigure
    from tailblock.measures.working import work_out

    screen = Screen()
    if name not in FIGURES:
        found = _fitting(name)
        if values or not found:
            raise UnknownFigure(name)
        if as_json:
            rows = [
                _described(row) | {"region": region} for region in found for row in found[region]
            ]
            print_data({"figures": rows})
        else:
            _print_list(screen, found)
        return
    given = _given(FIGURES[name], values)
    working = work_out(
        name,
        {argument: value for argument, (value, _) in given.items()},
        {argument: spread for argument, (_, spread) in given.items() if spread},
    )
    if as_json:
        print_data(_data(working))
    else:
        _print_working(screen, working)


def _fitting(word: str) -> dict[str, list[Figure]]:
    """Return the figures of a region, or those with a word in their name or description."""
    from tailblock.measures.figures import REGIONS

    def fits(row: Figure) -> bool:
        return word.casefold() in f"{row.name} {row.name.replace('_', ' ')} {row.about}".casefold()

    if word in REGIONS:
        return {word: list(REGIONS[word])}
    found = {region: [row for row in rows if fits(row)] for region, rows in REGIONS.items()}
    return {region: rows for region, rows in found.items() if rows}


def _print_list(screen: Screen, found: Mapping[str, list[Figure]]) -> None:
    """Print a line for each figure: its name and what it is."""
    for region, rows in found.items():
        screen.say(region, "title")
        for row in rows:
            screen.say(f"{row.name}: {row.about}", indent=2)
    screen.say("`tailblock figure NAME` says what a figure takes.", "quiet")


def _print_working(screen: Screen, working: Working) -> None:
    row = working.figure
    screen.say(f"{row.name}: {row.about}", "title")
    screen.say(f"source: {row.source}", "quiet", indent=2)
    for one in working.given:
        mark = ", assumed" if one.assumed else "" if one.u else ", taken as exact"
        screen.say(f"{one.name} = {_value(one.value, one.dimension, one.u)}{mark}", indent=2)
    for step in working.steps:
        screen.say(f"{step.symbol.replace('_', ' ')} = {step.formula}", indent=2)
        screen.say(f"= {step.numbers}", indent=4)
        screen.say(f"= {_step_value(step.value, step.unit)}", indent=4)
    if not working.steps:
        screen.say(row.formula, indent=2)
    screen.say(f"= {_value(working.value, row.result, working.u)}", "title")
    if parts := ", ".join(_parts(working)):
        screen.say(f"the ± comes from {parts}", indent=2)


def _parts(working: Working) -> Iterator[str]:
    """Yield the arguments that make the uncertainty, with their part of the variance."""
    for one in working.by_share:
        if one.share >= _LEAST_SHARE:
            yield f"{one.name} ({100 * one.share:.0f} %)"


def _given(row: Figure, values: list[str] | None) -> dict[str, tuple[float, float]]:
    """Return value and standard uncertainty of each argument, in base units."""
    from tailblock.cli.options import pairs
    from tailblock.measures import UnitError, parse
    from tailblock.measures.figures import WrongArguments

    found = {}
    for arg, text in pairs("value", values, "relief=0.3mm").items():
        if arg not in row.arguments:
            raise WrongArguments(row, set(), {arg})
        dimension = row.arguments[arg]
        value, *spread = _SPREAD.split(text, maxsplit=1)
        unit = _base_unit(dimension)
        try:
            u = parse(spread[0], dimension, unit, difference=True).quantity.value if spread else 0.0
            found[arg] = (parse(value, dimension, unit).quantity.value, abs(u))
        except UnitError as error:
            raise BadValue(row.name, arg, str(error)) from error
    return found


def _described(row: Figure) -> dict[str, Any]:
    return {
        "figure": row.name,
        "about": row.about,
        "formula": row.formula,
        "source": row.source,
        "required": list(row.required),
        "result": row.result,
    }


def _data(working: Working) -> dict[str, Any]:
    arguments = [
        {"name": one.name, "dimension": one.dimension, "value": one.value, "u": one.u,
         "assumed": one.assumed, "share": one.share}
        for one in working.given
    ]  # fmt: skip
    steps = [
        {"symbol": step.symbol, "formula": step.formula, "numbers": step.numbers,
         "value": step.value, "unit": step.unit}
        for step in working.steps
    ]  # fmt: skip
    described = _described(working.figure)
    return {**described, "arguments": arguments, "steps": steps, "value": working.value,
            "u": working.u}  # fmt: skip


def _base_unit(dimension: str) -> str:
    from tailblock.measures.definitions import UNITS

    return next(
        unit.name
        for unit in UNITS
        if unit.dimension == dimension and unit.factor == 1 and not unit.offset
    )


def _step_value(value: float, unit: str) -> str:
    """Write the value of a step with the figures that the next step puts in, then as people do."""
    from tailblock.measures import Quantity, show
    from tailblock.measures.definitions import EXAMPLES
    from tailblock.measures.notation import five_figures

    figures = five_figures(value)
    if unit == "count":
        return figures
    if unit not in EXAMPLES:
        return f"{figures} {unit}"
    base = _base_unit(unit).replace("deg", "°")
    metric, _, shop = show(Quantity(value, unit)).partition(" (")
    if not shop:
        return f"{figures} {base}".replace(" °", "°")
    same = metric.split(" ", 1)[-1] == base
    return f"{figures} {base} ({'' if same else metric + ', '}{shop}"


def _value(value: float, dimension: str, spread: float) -> str:
    """Write a value with its standard uncertainty, which is never shown as none if there is one.

    A spread of temperature has no zero to shift.
    """
    from tailblock.measures import Quantity, show
    from tailblock.measures.notation import five_figures

    shown = show(Quantity(value, dimension))
    if not spread:
        return shown
    if show(Quantity(spread, dimension)) == show(Quantity(0.0, dimension)):
        return f"{shown} ± {five_figures(float(f'{spread:.1g}'))} {_base_unit(dimension)}"
    if dimension == "temperature":
        return f"{shown} ± {spread:.1f} °C ({1.8 * spread:.1f} °F)"
    return f"{shown} ± {show(Quantity(spread, dimension))}"
