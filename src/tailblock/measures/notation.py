"""A formula as it is written on paper: to read, to work out, to show with the numbers put in.

In: an expression over names, such as `action + k * (exposure_wanted - exposure)`. Out: its value,
and its text in words or in numbers.

Python's own grammar is read (by `ast`), and of it only what a formula needs: numbers, names,
arithmetic, a call, a choice between two cases. Nothing is executed. Angles are in degrees, as on a
pocket calculator.
"""

from __future__ import annotations

import ast
import math
import operator
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {
        "sqrt": math.sqrt,
        "exp": math.exp,
        "ln": math.log,
        "log2": math.log2,
        "sin": lambda degrees: math.sin(math.radians(degrees)),
        "cos": lambda degrees: math.cos(math.radians(degrees)),
        "tan": lambda degrees: math.tan(math.radians(degrees)),
        "atan": lambda ratio: math.degrees(math.atan(ratio)),
        "radians": math.radians,
        "abs": abs,
        "max": max,
        "min": min,
    }
)
CONSTANTS: Mapping[str, float] = MappingProxyType({"pi": math.pi})

# sign, how tightly it binds, what it does
_SIGNS: Mapping[type[ast.operator], tuple[str, int, Callable[[float, float], float]]] = (
    MappingProxyType(
        {
            ast.Add: (" + ", 1, operator.add),
            ast.Sub: (" - ", 1, operator.sub),
            ast.Mult: (" × ", 2, operator.mul),
            ast.Div: (" / ", 2, operator.truediv),
            ast.Pow: ("^", 4, operator.pow),
        }
    )
)
_COMPARED: Mapping[type[ast.cmpop], tuple[str, Callable[[float, float], bool]]] = MappingProxyType(
    {ast.Gt: (">", operator.gt), ast.Lt: ("<", operator.lt)}
)
_NEGATIVE, _WHOLE = 3, 5


@cache
def read(expression: str) -> ast.expr:
    """Return the tree of an expression.

    Raises
    ------
    SyntaxError
        It is none.
    """
    return ast.parse(expression.strip(), mode="eval").body


def names_in(expression: str) -> tuple[str, ...]:
    """Return the names of quantities in an expression, in the order in which they stand.

    >>> names_in("k * sin(tilt) + k * pi")
    ('k', 'tilt')
    """
    return tuple(dict.fromkeys(_names(read(expression))))


def value_of(
    expression: str,
    values: Mapping[str, float],
    functions: Mapping[str, Callable[..., float]] = FUNCTIONS,
) -> float:
    """Return the value of an expression.

    Raises
    ------
    KeyError
        A name without a value, or an unknown function.
    ArithmeticError, ValueError
        It has no value: a division by zero, a root of what is negative.

    >>> value_of("max(0, a - b) / 2**3", {"a": 5.0, "b": 1.0})
    0.5
    """
    return _value(read(expression), values, functions)


def in_words(expression: str) -> str:
    """Return an expression as one writes it.

    >>> in_words("action - 2**(-1/12) * (relief - relief_wanted)")
    'action - 2^(-1 / 12) × (relief - relief wanted)'
    """
    return _text(read(expression), None)[0]


def in_numbers(expression: str, values: Mapping[str, float]) -> str:
    """Return an expression with the numbers put in, to five figures.

    >>> in_numbers("a - relief_share * (b + 1)", {"a": 2.5, "relief_share": 0.35, "b": -1.0})
    '2.5 - 0.35 × (-1 + 1)'
    """
    return _text(read(expression), values)[0]


def five_figures(value: float) -> str:
    """Write a number to five figures, without a power of ten.

    >>> five_figures(48600.0), five_figures(0.00148), five_figures(291.8749), five_figures(2e-7)
    ('48600', '0.00148', '291.87', '0.0000002')
    """
    size = abs(value)
    places = 4 - math.floor(math.log10(size)) if size else 0
    text = f"{value:.{max(0, places)}f}"
    return text.rstrip("0").removesuffix(".") if "." in text else text


def _names(tree: ast.expr) -> Iterator[str]:
    """Yield the names of quantities from left to right."""
    match tree:
        case ast.Name(name):
            if name not in CONSTANTS:
                yield name
        case ast.Call(args=given, keywords=named):
            for one in (*given, *(word.value for word in named)):
                yield from _names(one)
        case _:
            for child in ast.iter_child_nodes(tree):
                if isinstance(child, ast.expr):
                    yield from _names(child)


def _value(
    tree: ast.expr, values: Mapping[str, float], functions: Mapping[str, Callable[..., float]]
) -> float:
    def of(one: ast.expr) -> float:
        return _value(one, values, functions)

    match tree:
        case ast.Constant(int() | float() as number):
            return number
        case ast.Name(name):
            return CONSTANTS[name] if name in CONSTANTS else values[name]
        case ast.UnaryOp(ast.USub(), one):
            return -of(one)
        case ast.BinOp(left, sign, right) if type(sign) in _SIGNS:
            return _SIGNS[type(sign)][2](of(left), of(right))
        case ast.IfExp(ast.Compare(left, [sign], [right]), then, other):
            holds = _COMPARED[type(sign)][1](of(left), of(right))
            return of(then if holds else other)
        case ast.Call(ast.Name(name), given, named):
            words = {word.arg or "": of(word.value) for word in named}
            return functions[name](*map(of, given), **words)
    raise ValueError(f"{ast.unparse(tree)} is no formula")


def _text(tree: ast.expr, values: Mapping[str, float] | None) -> tuple[str, int]:
    """Return the text of a tree and how tightly it binds."""

    def of(one: ast.expr, least: int = 0) -> str:
        text, binds = _text(one, values)
        return f"({text})" if binds < least else text

    match tree:
        case ast.Constant(int() | float() as number):
            return f"{number:g}" if number < 1e6 else f"{number:.0f}", _WHOLE
        case ast.Name(name):
            if name in CONSTANTS or values is None:
                return name.replace("_", " "), _WHOLE
            text = five_figures(values[name])
            return text, _NEGATIVE if text.startswith("-") else _WHOLE
        case ast.UnaryOp(ast.USub(), one):
            return f"-{of(one, _NEGATIVE + 1)}", _NEGATIVE
        case ast.BinOp(left, sign, right) if type(sign) in _SIGNS:
            written, binds, _ = _SIGNS[type(sign)]
            after = of(right, binds + 1)
            if after.startswith("-"):  # 2 - (-1)
                after = f"({after})"
            return f"{of(left, binds + (binds == 4))}{written}{after}", binds
        case ast.IfExp(ast.Compare(left, [sign], [right]), then, other):
            when = f"{of(left)} {_COMPARED[type(sign)][0]} {of(right)}"
            return f"{of(then)} if {when}, else {of(other)}", 0
        case ast.Call(ast.Name(name), given, named):
            inside = ", ".join((*map(of, given), *(_named(word, values) for word in named)))
            return f"{name.replace('_', ' ')}({inside})", _WHOLE
    raise ValueError(f"{ast.unparse(tree)} is no formula")


def _named(word: ast.keyword, values: Mapping[str, float] | None) -> str:
    """Return a named argument: a quantity speaks for itself, a number does not."""
    text = _text(word.value, values)[0]
    if values is None and isinstance(word.value, ast.Name):
        return text
    return f"{(word.arg or '').replace('_', ' ')} {text}"
