"""From what a person wrote to what it means, or one sentence that says what would be right.

In: a check of the checklist and the characters of an answer (`7/64 in`, `slight`, `unknown`), the
traits and the setup of the instrument. Out: an `Answer`, or one of the `AnswerError`s. Nothing is
guessed: a bare number takes the check's unit and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.inspection.answer_errors import (
    AmbiguousLevel,
    AnswerError,
    CheckDoesNotApply,
    DerivedCheck,
    LevelNotMeasured,
    NoSuchCheck,
    NotALevel,
    NotAValue,
    ValueOutOfRange,
    WrongSetup,
    folded,
    listed,
)
from tailblock.inspection.record import Answer
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.traits import share
from tailblock.measures.units import UnitError, parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Condition, Measure

__all__ = [
    "AmbiguousLevel",
    "AnswerError",
    "CheckDoesNotApply",
    "DerivedCheck",
    "Excluded",
    "LevelNotMeasured",
    "NoSuchCheck",
    "NotALevel",
    "NotAValue",
    "ValueOutOfRange",
    "WrongSetup",
    "excluded_by",
    "find_check",
    "require_setup",
    "understand",
]


def find_check(name: str, checklist: Checklist, traits: Mapping[str, str]) -> Check:
    """Return the check of that id if it can be asked of this instrument.

    Parameters
    ----------
    name
        The id of a check.
    traits
        Trait -> value; one that is missing is unknown.

    Raises
    ------
    NoSuchCheck, DerivedCheck, CheckDoesNotApply
    """
    check = checklist.checks.get(name)
    if check is None:
        raise NoSuchCheck(name, checklist.checks)
    if check.derived is not None:
        raise DerivedCheck(name, list(_inputs(check)))
    excluded = excluded_by(check.applies_when, traits, checklist)
    if excluded:
        raise CheckDoesNotApply(name, excluded.trait, excluded.value, excluded.wanted)
    return check


def _inputs(check: Check) -> Iterator[str]:
    """Yield the readings that a derived check is made from, with the setups they are wanted in."""
    for taken in check.from_.values():
        if taken.check:
            states = [f"{name} {listed(wanted, 'or')}" for name, wanted in taken.setup.items()]
            yield f"{taken.check} with {listed(states)}" if states else taken.check


@dataclass(frozen=True, slots=True)
class Excluded:
    """The trait that keeps an entry from applying, its value, and what would be wanted."""

    trait: str
    value: str
    wanted: tuple[str, ...]


def excluded_by(
    condition: Condition, traits: Mapping[str, str], checklist: Checklist
) -> Excluded | None:
    """Return the first trait that keeps a condition from holding, if there is one.

    Parameters
    ----------
    condition
        Trait -> the values of which it must have one.
    traits
        Trait -> value; what `unknown` allows is a matter of the trait's shares.
    """
    for trait, wanted in condition.items():
        if share({trait: wanted}, traits, checklist) == 0:
            return Excluded(trait, traits.get(trait, UNKNOWN), wanted)
    return None


def require_setup(check: Check, setup: Setup) -> None:
    """Refuse a reading in a state of the instrument that the check does not allow.

    Raises
    ------
    WrongSetup
        Names the first dimension that is off and the states that the check needs.
    """
    for dimension, wanted in check.setup.items():
        if setup[dimension] not in wanted:
            raise WrongSetup(check.id, dimension, setup[dimension], wanted)


def understand(check: Check, written: str) -> Answer:
    """Return what an answer means.

    Parameters
    ----------
    check
        The check that was asked.
    written
        The answer as it was written: `unknown`; a level's id or the beginning of one, in any case
        and with spaces for hyphens; or a value, whose unit may be left out.

    Returns
    -------
    Answer
        With `value` in the base unit of the check's quantity (see `measures.definitions`).

    Raises
    ------
    NotALevel, AmbiguousLevel
        The check has levels and this is none, or the beginning of several.
    LevelNotMeasured, NotAValue, ValueOutOfRange
        The check is measured and this is a level, no such quantity, or outside the possible.
    """
    if folded(written) == UNKNOWN:
        return Answer(unknown=True)
    if check.measure is None:
        return Answer(level=_level(check, written))
    return _value(check.id, check.measure, written)


def _level(check: Check, written: str) -> str:
    """Return the one level that the text names or begins."""
    levels = [choice.level for choice in check.choices]
    given = folded(written)
    if given in levels:
        return given
    begun = [level for level in levels if given and level.startswith(given)]
    if len(begun) > 1:
        raise AmbiguousLevel(check.id, written, begun)
    if not begun:
        raise NotALevel(check.id, written, levels)
    return begun[0]


def _value(check: str, measure: Measure, written: str) -> Answer:
    """Return the measured value if it is possible at all."""
    try:
        parsed = parse(written, measure.quantity, measure.unit)
    except UnitError as why:
        if folded(written) in _level_ids(measure):
            raise LevelNotMeasured(check, written, measure) from why
        raise NotAValue(check, why) from why
    low, high = (
        None if end is None else parse(end, measure.quantity, measure.unit).quantity
        for end in (measure.possible.from_, measure.possible.to)
    )
    value = parsed.quantity
    if (low and value.value < low.value) or (high and value.value > high.value):
        raise ValueOutOfRange(check, value, low, high)
    assumed = parsed.assumed and measure.quantity != "count"  # a number alone is a count
    return Answer(value=value.value, assumed_unit=parsed.unit if assumed else "")


def _level_ids(measure: Measure) -> set[str]:
    high = [level.level for level in (*measure.levels, *measure.levels_high)]
    return {"normal", *high, *(level.level for level in measure.levels_low)}
