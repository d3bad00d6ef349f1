"""From a model's refusal to a located sentence with its mend.

In: pydantic's `ValidationError` and the marks of the entry that it refused. Out: `Problem`s in
words of the format. The inspection file uses it too.
"""

from __future__ import annotations

import difflib
import types
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from tailblock.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

    from tailblock.knowledge.yamlmarks import Mark, Place

Path = tuple[str | int, ...]


def problems_of(
    error: ValidationError, model: type[BaseModel], mark: Mark, entry: str
) -> list[Problem]:
    """Say what is wrong with an entry, each thing at its place.

    Parameters
    ----------
    error
        What the model raised.
    model
        The model; its fields are what an unknown field is compared with.
    mark
        The places of the data that it was given.
    entry
        The entry's name for messages.

    Returns
    -------
    list of Problem, in the order of the model's fields
    """
    found: dict[tuple[Place, str, str], Problem] = {}
    for detail in error.errors(include_url=False):
        path = tuple(step for step in detail["loc"] if step != "[key]")
        of_name = detail["type"] == "extra_forbidden" or path != detail["loc"]
        place = mark.name_below(path) if of_name else mark.below(path).place
        rule, message, mend = _said(detail, model)
        found.setdefault((place, rule, message), Problem(*place, entry, rule, message, mend))
    return list(found.values())


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a mend that names the nearest known word, or all of a few; empty if nothing is near.

    >>> nearest("alnoe", ["alone", "part"])
    'did you mean `alone`?'
    """
    known = list(known)
    close = difflib.get_close_matches(word, known, n=1)
    if close:
        return f"did you mean `{close[0]}`?"
    return f"there is {', '.join(known)}" if 0 < len(known) <= 12 else ""


def _said(detail: ErrorDetails, model: type[BaseModel]) -> tuple[str, str, str]:
    """Return rule, message and mend for one of pydantic's findings."""
    loc = detail["loc"]
    name = next((step for step in reversed(loc) if isinstance(step, str) and step != "[key]"), "")
    field = f"`{name}`" if name else "this"
    given = detail.get("input")
    context = detail.get("ctx", {})
    kind = detail["type"]
    if kind == "extra_forbidden":
        return "unknown-field", f"unknown field {field}", nearest(name, _fields_at(model, loc[:-1]))
    if kind == "missing":
        return "missing-field", f"{field} is missing", f"add `{name}: ...`"
    if kind == "value_error":
        return "bad-value", str(context["error"]), ""
    if given is None:
        return "missing-field", f"{field} is empty", "give it a value, or leave the field out"
    if kind == "literal_error":
        known = [
            word.strip("'\"") for word in str(context["expected"]).replace(" or ", ", ").split(", ")
        ]
        return "bad-value", f"`{given}` is not one of {', '.join(known)}", _close(str(given), known)
    if kind == "too_short":
        return "bad-value", f"{field} must have at least {context['min_length']}", ""
    if kind in _FORMS:
        return (
            "bad-value",
            f"{field} must be {_FORMS[kind].format_map(context)}",
            _MENDS.get(kind, ""),
        )
    return "bad-value", f"{field} {detail['msg'].replace('Input should', 'must')}", ""


def _close(word: str, known: list[str]) -> str:
    close = difflib.get_close_matches(word, known, n=1)
    return f"did you mean `{close[0]}`?" if close else ""


_MENDS = {"string_pattern_mismatch": "for example `bridge-lifting`"}
_FORMS = {
    "string_type": "a text",
    "string_too_short": "a text that is not empty",
    "string_too_long": "at most {max_length:,} characters long",
    "string_pattern_mismatch": "an id: small letters, digits and hyphens",
    "float_parsing": "a number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "int_parsing": "a whole number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "tuple_type": "a list",
    "dict_type": "a mapping (`name: value`)",
    "model_type": "a mapping (`name: value`)",
    "model_attributes_type": "a mapping (`name: value`)",
}


def _fields_at(model: type[BaseModel], loc: Path) -> list[str]:
    """Return the names of the fields that may stand at a place in a model."""
    annotations: list[Any] = [model]
    for step in loc:
        below = [_below(annotation, step) for annotation in annotations]
        annotations = [a for many in below for a in many] or annotations
    models = [m for a in annotations for m in _models(a)]
    return [info.alias or name for m in models for name, info in m.model_fields.items()]


def _below(annotation: Any, step: str | int) -> list[Any]:
    """Return the annotations of a field or an item; none if the step is no step into the data."""
    if isinstance(step, int):
        return [a for a in _unpacked(annotation) if _models(a)]
    fields = [
        info.annotation
        for m in _models(annotation)
        for name, info in m.model_fields.items()
        if step in {name, info.alias}
    ]
    return [f for f in fields if f is not None]


def _unpacked(annotation: Any) -> list[Any]:
    """Return what a tuple, a union or an annotated type is made of."""
    if get_origin(annotation) in {tuple, Union, types.UnionType, Annotated, dict}:
        return [part for a in get_args(annotation) for part in _unpacked(a)]
    return [annotation]


def _models(annotation: Any) -> list[type[BaseModel]]:
    return [a for a in _unpacked(annotation) if isinstance(a, type) and issubclass(a, BaseModel)]
