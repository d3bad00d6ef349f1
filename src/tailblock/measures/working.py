"""A figure worked out as on paper: what was given, each step with its numbers, what makes its ±.

In: the name of a figure, values in base units with standard uncertainties. Out: a `Working`, all of
it data: symbols, formulas and numbers, no sentence. The function of the figure gives its value and
uncertainty; the steps stand beside it in its row, and a test holds the two together.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.measures.definitions import Quantity
from tailblock.measures.figures import FIGURES, NOT_A_NUMBER, NoAnswer, complete
from tailblock.measures.limits import OutOfRange
from tailblock.measures.notation import FUNCTIONS, in_numbers, in_words, value_of
from tailblock.measures.season_dome import dome_of_arc
from tailblock.measures.set_masses import nylon_mass, six_string_mass, twelve_string_mass
from tailblock.measures.showing import show
from tailblock.measures.uncertainty import changes

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tailblock.measures.rows.row import Figure

# What a step may call: what a calculator has, other figures, and what has to be looked up.
_CALLED: Mapping[str, Callable[..., float]] = MappingProxyType(
    {
        **{name: figure.function for name, figure in FIGURES.items()},
        **{
            function.__name__: function
            for function in (six_string_mass, twelve_string_mass, nylon_mass, dome_of_arc)
        },
        **FUNCTIONS,
    }
)


LARGEST = 1e60  # of a number in base units; beyond it nothing can be written for people


@dataclass(frozen=True, slots=True)
class Given:
    """An argument with its standard uncertainty in base units; `assumed` if it was left out.

    `share` is its part of the variance of the result, from 0 to 1.
    """

    name: str
    dimension: str
    value: float
    u: float
    assumed: bool
    share: float


@dataclass(frozen=True, slots=True)
class Step:
    """One line on paper: `symbol = formula = numbers = value`.

    `formula` is in words, `numbers` the same with the values put in (in base units). `unit` is a
    dimension of `definitions`, or the unit itself where there is none.
    """

    symbol: str
    formula: str
    numbers: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Working:
    """A figure with its arguments, its steps and its result in base units.

    `steps` end with the result. They are empty in a limiting case that only the function knows,
    such as an arc without a curve.
    """

    figure: Figure
    given: tuple[Given, ...]
    steps: tuple[Step, ...]
    value: float
    u: float

    @property
    def by_share(self) -> tuple[Given, ...]:
        """Return the arguments that make the uncertainty, the one that makes most of it first."""
        uncertain = (one for one in self.given if one.share > 0)
        return tuple(sorted(uncertain, key=lambda one: -one.share))


def work_out(name: str, values: Mapping[str, float], u: Mapping[str, float]) -> Working:
    """Return a figure worked out step by step.

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
    UnknownFigure, WrongArguments
        As for `evaluate`.
    NoAnswer
        The formula does not hold for these values, or they have no result.

    >>> working = work_out("saddle_for_action", {"exposure": 3.6, "action": 2.5,
    ...     "action_wanted": 2.0, "scale_length": 648.0, "compensation": 2.0}, {"action": 0.1})
    >>> for step in working.steps[-2:]:
    ...     print(step.symbol, "=", step.numbers, "=", round(step.value, 4))
    k = (324 - 36.37) / (648 + 2 - 36.37) = 0.4687
    saddle_for_action = 3.6 - (2.5 - 2) / 0.46874 = 2.5333
    """
    try:
        figure, full, spread = complete(name, values, u)
    except OutOfRange as error:
        raise NoAnswer(FIGURES[name], _out_of_range(FIGURES[name], error)) from error
    try:
        value = figure.function(**full)
        moved = changes(figure.function, full, spread)
    except OutOfRange as error:
        raise NoAnswer(figure, _out_of_range(figure, error)) from error
    except NOT_A_NUMBER as error:
        raise NoAnswer(figure, f"these values have no result ({figure.formula})") from error
    total = hypot(*moved.values())
    if not (abs(value) < LARGEST and total < LARGEST):
        raise NoAnswer(
            figure, f"these values have no result of a size that is met ({figure.formula})"
        )
    given = tuple(
        Given(
            argument,
            dimension,
            full[argument],
            spread.get(argument, 0.0),
            argument not in values,
            (moved.get(argument, 0.0) / total) ** 2 if total else 0.0,
        )
        for argument, dimension in figure.arguments.items()
    )
    return Working(figure, given, _steps(figure, full), value, total)


def _steps(figure: Figure, values: Mapping[str, float]) -> tuple[Step, ...]:
    """Return the steps of a figure, or none in a limiting case that they do not know."""
    known = dict(values)
    steps = []
    for symbol, expression in figure.steps.items():
        try:
            value = value_of(expression, known, _CALLED)
        except (ArithmeticError, ValueError):
            return ()
        if not abs(value) < LARGEST:
            return ()
        numbers = in_numbers(expression, known)
        steps.append(Step(symbol, in_words(expression), numbers, value, figure.units[symbol]))
        known[symbol] = value
    return tuple(steps)


def _out_of_range(figure: Figure, error: OutOfRange) -> str:
    """Say what an argument may be, in its own unit."""
    dimension = figure.arguments.get(error.argument)
    if dimension is None or not abs(error.value) < LARGEST:
        return str(error)
    value, low, high = (
        show(Quantity(number, dimension)) if abs(number) < LARGEST else ""
        for number in (error.value, error.low, error.high)
    )
    bounds = (
        f"from {low} to {high}" if low and high else f"from {low} on" if low else f"up to {high}"
    )
    return f"{error.argument} is {value}; the formula holds {bounds}"
