"""Answers that cannot stand: each error takes its data and writes its own sentence.

In: what was given and what would have been right. Out: exceptions with `check`, `rule`, `said` and
`mend`, whose text is one line.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING, ClassVar

from tailblock.errors import TailblockError
from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.mending import nearest
from tailblock.measures.units import show

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tailblock.knowledge.entries import Measure
    from tailblock.measures.units import Quantity, UnitError


_LISTED = "`tailblock table CHECKLIST --kind check` lists them"


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
        super().__init__(check, "there is no such check", nearest(check, known) or _LISTED)


class DerivedCheck(AnswerError):
    """The check is computed from others and never asked by itself."""

    rule = "derived-check"

    def __init__(self, check: str, inputs: Sequence[str]) -> None:
        self.inputs = tuple(inputs)
        said = f"it is computed, never asked; give the readings it is made from: {listed(inputs)}"
        super().__init__(check, said)


class CheckDoesNotApply(AnswerError):
    """The instrument is of a kind that the check is not made for."""

    rule = "does-not-apply"

    def __init__(self, check: str, trait: str, value: str, wanted: Sequence[str]) -> None:
        self.trait, self.value, self.wanted = trait, value, tuple(wanted)
        said = f"it does not apply to this instrument: {trait} is {value}"
        super().__init__(check, said, f"it is for {trait} {listed(wanted, 'or')}")


class WrongSetup(AnswerError):
    """The check cannot be read in the state the instrument is in."""

    rule = "wrong-setup"

    def __init__(self, check: str, dimension: str, state: str, wanted: Sequence[str]) -> None:
        self.dimension, self.state, self.wanted = dimension, state, tuple(wanted)
        said = f"it cannot be read with {dimension} {state}"
        mend = f"it needs {dimension} {listed(wanted, 'or')}; say the setup it was read in"
        super().__init__(check, said, mend)


class NotALevel(AnswerError):
    """The answer is none of the levels of a check that is looked at, asked or listened to."""

    rule = "not-a-level"

    def __init__(self, check: str, given: str, levels: Sequence[str]) -> None:
        self.given, self.levels = given, tuple(levels)
        answers = (*levels, UNKNOWN)
        said = f"{given!r} is none of its answers: {listed(answers, 'or')}"
        close = get_close_matches(folded(given), answers, n=1)
        super().__init__(check, said, f"did you mean {close[0]}?" if close else "")


class AmbiguousLevel(AnswerError):
    """The answer is the beginning of several levels."""

    rule = "ambiguous-level"

    def __init__(self, check: str, given: str, levels: Sequence[str]) -> None:
        self.given, self.levels = given, tuple(levels)
        super().__init__(
            check, f"{given!r} may be {listed(levels, 'or')}", "write more of the word"
        )


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


def folded(written: str) -> str:
    """Bring a person's spelling of an id to its form: `Very marked` -> `very-marked`."""
    return "-".join(written.casefold().replace("_", " ").split())


def listed(names: Sequence[str], last: str = "and") -> str:
    """Return names as a sentence lists them: `a, b or c`."""
    *first, end = names
    return f"{', '.join(first)} {last} {end}" if first else end
