"""`figure`: one formula of the bench by name, worked out with the values that a person gives.

In: a name and values as NAME=VALUE, with their spread if known; or a name alone, a region, a word,
or nothing. Out: arguments, steps, result and what makes its uncertainty; or what the figure takes;
or the list of figures.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
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


_HOW_EXACT = " (a spread stands behind ±, as in 2.3 ± 0.1 mm or 2.3+-0.1mm)"  # said once


@dataclass(frozen=True, slots=True)
class _Value:
    """What was given for an argument, in base units; `taken` the unit, if none was written."""

    value: float
    u: float
    taken: str


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
    if not values and FIGURES[name].required:
        if as_json:
            print_data(_described(FIGURES[name]))
        else:
            _print_described(screen, FIGURES[name])
        return
    given = _given(FIGURES[name], values)
    working = work_out(
        name,
        {argument: one.value for argument, one in given.items()},
        {argument: one.u for argument, one in given.items() if one.u},
    )
    taken = {argument: one.taken for argument, one in given.items()}
    if as_json:
        print_data(_data(working, taken))
    else:
        _print_working(screen, working, taken)


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


def _print_described(screen: Screen, row: Figure) -> None:
    """Print what a figure takes, and what it assumes of what may be left out."""
    from tailblock.measures.definitions import EXAMPLES
    from tailblock.measures.figures import example

    _print_head(screen, row)
    screen.say(row.formula, indent=2)
    for name, dimension in row.arguments.items():
        left_out = f", or else {_value(*_usual(row, name))}" if name in row.assumed else ""
        screen.say(f"{name}: {EXAMPLES[dimension][0]}{left_out}", indent=2)
    words = " ".join(example(row, name) for name in row.required)
    screen.say(f"Give them like this: tailblock figure {row.name} {words}", "quiet")


def _usual(row: Figure, name: str) -> tuple[float, str, float]:
    value, u = row.assumed[name]
    return value, row.arguments[name], u


def _print_head(screen: Screen, row: Figure) -> None:
    screen.say(f"{row.name}: {row.about}", "title")
    screen.say(f"source: {row.source}", "quiet", indent=2)


def _print_working(screen: Screen, working: Working, taken: Mapping[str, str]) -> None:
    row, how = working.figure, _HOW_EXACT
    _print_head(screen, row)
    for one in working.given:
        mark = ", assumed" if one.assumed else ""
        if taken.get(one.name):
            mark += f", no unit given: taken for {taken[one.name]}"
        if not (one.assumed or one.u):
            mark += ", taken as exact"
            if one.dimension != "count":
                mark, how = mark + how, ""
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


def _given(row: Figure, values: list[str] | None) -> dict[str, _Value]:
    """Return what was given for each argument."""
    from tailblock.cli.options import pairs
    from tailblock.measures import UnitError
    from tailblock.measures.figures import WrongArguments, example

    texts = pairs("", values, example(row, next(iter(row.arguments))))
    missing, unknown = set(row.required) - texts.keys(), texts.keys() - row.arguments.keys()
    if missing or unknown:
        raise WrongArguments(row, missing, unknown)
    found = {}
    for argument, text in texts.items():
        try:
            found[argument] = _read(row, argument, text)
        except UnitError as error:
            raise BadValue(row.name, argument, str(error)) from error
    return found


def _read(row: Figure, argument: str, text: str) -> _Value:
    """Read a value and its spread; where one of them has no unit, it is in the other's."""
    from tailblock.measures import UnitError, parse

    dimension = row.arguments[argument]
    given, *behind = _SPREAD.split(text, maxsplit=1)
    unit, u = _base_unit(dimension), 0.0
    if not behind:
        value = parse(given, dimension, unit)
        return _Value(value.quantity.value, u, _taken(value.unit, dimension, value.assumed))
    if not (given.strip() and behind[0]):
        raise BadValue(row.name, argument, f"{text!r}: a value stands on both sides of ±")
    try:
        spread = parse(behind[0], dimension, unit, difference=True)
        value = parse(given, dimension, unit if spread.assumed else spread.unit)
        u = parse(behind[0], dimension, value.unit, difference=True).quantity.value
    except UnitError as error:
        raise BadValue(row.name, argument, f"{text!r}: {error}") from error
    if u < 0:
        raise BadValue(row.name, argument, f"{text!r}: a spread is not below zero")
    assumed = value.assumed and spread.assumed
    return _Value(value.quantity.value, u, _taken(value.unit, dimension, assumed))


def _taken(unit: str, dimension: str, assumed: bool) -> str:
    """Return the unit that a bare number was taken for; a count needs none."""
    return {"in": "inches", "C": "°C"}.get(unit, unit) if assumed and dimension != "count" else ""


def _described(row: Figure) -> dict[str, Any]:
    return {
        "figure": row.name,
        "about": row.about,
        "formula": row.formula,
        "source": row.source,
        "takes": dict(row.arguments),
        "required": list(row.required),
        "result": row.result,
    }


def _data(working: Working, taken: Mapping[str, str]) -> dict[str, Any]:
    arguments = [
        {"name": one.name, "dimension": one.dimension, "value": one.value, "u": one.u,
         "assumed": one.assumed, "share": one.share, "unit_taken": taken.get(one.name, "")}
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
    metric, nothing = (show(Quantity(v, dimension)).split(" (")[0] for v in (spread, 0.0))
    if metric == nothing:
        return f"{shown} ± {five_figures(float(f'{spread:.1g}'))} {_base_unit(dimension)}"
    if dimension == "temperature":
        return f"{shown} ± {spread:.1f} °C ({1.8 * spread:.1f} °F)"
    return f"{shown} ± {show(Quantity(spread, dimension))}"
