"""From what a person wrote to what it means, or one sentence that says what would be right.

In: a check of the checklist and the characters of an answer (`7/64 in`, `slight`, `unknown`), the
traits and the setup of the instrument. Out: an `Answer`, or an `AnswerError` that carries its data
and writes its own sentence. Nothing is guessed: a bare number takes the check's unit and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, ClassVar

from tailblock.errors import TailblockError
from tailblock.inspection.record import Answer
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.mending import nearest
from tailblock.knowledge.traits import share
from tailblock.measures.units import UnitError, parse, show

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from tailblock.inspection.record import Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check, Condition, Measure
    from tailblock.measures.units import Quantity


class AnswerError(TailblockError):
    """An answer that cannot stand.

    `check` is the id of the check, `said` what is wrong, `mend` what would be right, `rule` the
    name under which the problem is listed if the answer stands in a file.
    """

    rule: ClassVar[str] = "answer"

    def __init__(self, check: str, said: str, mend: str = "") -> None:
        self.check, self.said, self.mend = check, said, mend
        super().__init__(f"{check}: {said}" + (f" ({mend})" if mend else ""))


class NoSuchCheck(AnswerError):
    """The checklist has no check of that id."""

    rule = "unknown-check"

    def __init__(self, check: str, known: Iterable[str]) -> None:
        super().__init__(check, "there is no such check", nearest(check, known))


class DerivedCheck(AnswerError):
    """The check is computed from others and never asked by itself."""

    rule = "derived-check"

    def __init__(self, check: str, inputs: Sequence[str]) -> None:
        self.inputs = tuple(inputs)
        said = f"it is computed, never asked; give the readings it is made from: {_list(inputs)}"
        super().__init__(check, said)


class CheckDoesNotApply(AnswerError):
    """The instrument is of a kind that the check is not made for."""

    rule = "does-not-apply"

    def __init__(self, check: str, trait: str, value: str, wanted: Sequence[str]) -> None:
        self.trait, self.value, self.wanted = trait, value, tuple(wanted)
        said = f"it does not apply to this instrument: {trait} is {value}"
        super().__init__(check, said, f"it is for {trait} {_list(wanted, 'or')}")


class WrongSetup(AnswerError):
    """The check cannot be read in the state the instrument is in."""

    rule = "wrong-setup"

    def __init__(self, check: str, dimension: str, state: str, wanted: Sequence[str]) -> None:
        self.dimension, self.state, self.wanted = dimension, state, tuple(wanted)
        said = f"it cannot be read with {dimension} {state}"
        mend = f"it needs {dimension} {_list(wanted, 'or')}; say the setup it was read in"
        super().__init__(check, said, mend)


class NotALevel(AnswerError):
    """The answer is none of the levels of a check that is looked at, asked or listened to."""

    rule = "not-a-level"

    def __init__(self, check: str, given: str, levels: Sequence[str]) -> None:
        self.given, self.levels = given, tuple(levels)
        answers = (*levels, UNKNOWN)
        said = f"{given!r} is none of its answers: {_list(answers, 'or')}"
        close = get_close_matches(_folded(given), answers, n=1)
        super().__init__(check, said, f"did you mean {close[0]}?" if close else "")


class AmbiguousLevel(AnswerError):
    """The answer is the beginning of several levels."""

    rule = "ambiguous-level"

    def __init__(self, check: str, given: str, levels: Sequence[str]) -> None:
        self.given, self.levels = given, tuple(levels)
        super().__init__(check, f"{given!r} may be {_list(levels, 'or')}", "write more of the word")


class LevelNotMeasured(AnswerError):
    """A level was given where a value is measured; the level follows from the value."""

    rule = "value-wanted"

    def __init__(self, check: str, given: str, measure: Measure) -> None:
        self.given = given
        unit = measure.unit
        said = f"{given!r} is a level; this is measured, and the level follows from the value"
        super().__init__(check, said, f"give {measure.quantity} in {unit}, or {UNKNOWN}")


class NotAValue(AnswerError):
    """The value or its unit cannot be read as the quantity that the check measures."""

    rule = "not-a-value"

    def __init__(self, check: str, why: UnitError) -> None:
        self.why = why
        super().__init__(check, str(why))


class ValueOutOfRange(AnswerError):
    """The value is outside what is possible at all, so it is a slip."""

    rule = "out-of-range"

    def __init__(
        self, check: str, value: Quantity, low: Quantity | None, high: Quantity | None
    ) -> None:
        self.value, self.low, self.high = value, low, high
        ends = (f"from {show(low)}" if low else "", f"up to {show(high)}" if high else "")
        said = f"{show(value)} cannot be; possible is {' '.join(filter(None, ends))}"
        super().__init__(check, said, "look at the number and its unit again")


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
            states = [f"{name} {_list(wanted, 'or')}" for name, wanted in taken.setup.items()]
            yield f"{taken.check} with {_list(states)}" if states else taken.check


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
    if _folded(written) == UNKNOWN:
        return Answer(unknown=True)
    if check.measure is None:
        return Answer(level=_level(check, written))
    return _value(check.id, check.measure, written)


def _level(check: Check, written: str) -> str:
    """Return the one level that the text names or begins."""
    levels = [choice.level for choice in check.choices]
    given = _folded(written)
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
        if _folded(written) in _level_ids(measure):
            raise LevelNotMeasured(check, written, measure) from why
        raise NotAValue(check, why) from why
    low, high = (
        None if end is None else parse(end, measure.quantity, measure.unit).quantity
        for end in (measure.possible.from_, measure.possible.to)
    )
    value = parsed.quantity
    if (low and value.value < low.value) or (high and value.value > high.value):
        raise ValueOutOfRange(check, value, low, high)
    return Answer(value=value.value, assumed_unit=parsed.unit if parsed.assumed else "")


def _level_ids(measure: Measure) -> set[str]:
    high = [level.level for level in (*measure.levels, *measure.levels_high)]
    return {"normal", *high, *(level.level for level in measure.levels_low)}


def _folded(written: str) -> str:
    """Bring a person's spelling of an id to its form: `Very marked` -> `very-marked`."""
    return "-".join(written.casefold().replace("_", " ").split())


def _list(names: Sequence[str], last: str = "and") -> str:
    """Return names as a sentence lists them: `a, b or c`."""
    *first, end = names
    return f"{', '.join(first)} {last} {end}" if first else end
