"""A person's answer is understood, or the sentence says what would be right."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.inspection import answers
from tailblock.inspection.answers import find_check, require_setup, understand
from tailblock.inspection.record import Answer
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check

PIN = {"bridge": "pin", "strings": "steel"}


@pytest.mark.parametrize(
    ("check", "written", "answer"),
    [
        ("tap", "slight", Answer(level="slight")),
        ("tap", " Slight ", Answer(level="slight")),
        ("tap", "slight and dull", Answer(level="slight-and-dull")),
        ("tap", "SLIGHT_AND", Answer(level="slight-and-dull")),
        ("tap", "n", Answer(level="none")),
        ("tap", "Unknown", Answer(unknown=True)),
        ("action", "unknown", Answer(unknown=True)),
        ("action", "7/64 in", Answer(value=2.778125)),
        ("action", "7/64", Answer(value=2.778125, assumed_unit="in")),
        ("action", "2.5", Answer(value=2.5, assumed_unit="mm")),
        ("action", "0,25 cm", Answer(value=2.5)),
        ("tilt", "-1.5", Answer(value=-1.5, assumed_unit="deg")),
        ("action", "0.5 mm", Answer(value=0.5)),  # the ends are possible
        ("action", "12 mm", Answer(value=12.0)),
    ],
)
def test_an_answer_is_understood(
    bench: Checklist, check: str, written: str, answer: Answer
) -> None:
    assert understand(bench.checks[check], written) == answer


def test_a_number_alone_is_a_count_without_a_unit_taken() -> None:
    twelve = open_checklist("twelve-string", Shelves())
    assert understand(twelve.checks["tuned-lower"], "0") == Answer(value=0.0)


@pytest.mark.parametrize(
    ("check", "written", "error", "said"),
    [
        (
            "tap",
            "slihgt",
            answers.NotALevel,
            (
                "tap: 'slihgt' is none of its answers: none, slight, slight-and-dull or unknown "
                "(did you mean slight?)"
            ),
        ),
        (
            "tap",
            "3",
            answers.NotALevel,
            "tap: '3' is none of its answers: none, slight, slight-and-dull or unknown",
        ),
        (
            "tap",
            "sl",
            answers.AmbiguousLevel,
            "tap: 'sl' may be slight or slight-and-dull (write more of the word)",
        ),
        (
            "tap",
            "",
            answers.NotALevel,
            "tap: '' is none of its answers: none, slight, slight-and-dull or unknown",
        ),
        (
            "action",
            "very high",
            answers.LevelNotMeasured,
            (
                "action: 'very high' is a level; this is measured, and the level follows from the "
                "value (give length in mm, or unknown)"
            ),
        ),
        (
            "action",
            "a lot",
            answers.NotAValue,
            "action: 'a lot' is not a length; write it like 0.3 mm or 5/64 in",
        ),
        (
            "action",
            "3 deg",
            answers.NotAValue,
            "action: '3 deg' is an angle; a length is wanted, such as 0.3 mm or 5/64 in",
        ),
        (
            "action",
            "40 mm",
            answers.ValueOutOfRange,
            (
                "action: 40.00 mm (1 37/64 in) cannot be; possible is from 0.50 mm (.020 in) up to "
                "12.00 mm (15/32 in) (look at the number and its unit again)"
            ),
        ),
        (
            "action",
            "0.4 mm",
            answers.ValueOutOfRange,
            (
                "action: 0.40 mm (.016 in) cannot be; possible is from 0.50 mm (.020 in) up to "
                "12.00 mm (15/32 in) (look at the number and its unit again)"
            ),
        ),
    ],
)
def test_an_answer_that_cannot_stand_says_what_would(
    bench: Checklist, check: str, written: str, error: type[answers.AnswerError], said: str
) -> None:
    with pytest.raises(error) as refused:
        understand(bench.checks[check], written)
    assert str(refused.value) == said


@given(st.text(max_size=60))
def test_whatever_is_written_is_understood_or_refused_in_one_line(
    bench: Checklist, written: str
) -> None:
    for check in bench.checks.values():
        answer = answer_or_sentence(check, written)
        if isinstance(answer, str):
            assert "\n" not in answer
        else:
            said = (answer.level is not None, answer.value is not None, answer.unknown)
            assert sum(said) == 1


def answer_or_sentence(check: Check, written: str) -> Answer | str:
    try:
        return understand(check, written)
    except answers.AnswerError as refused:
        return str(refused)


@given(st.sampled_from(["none", "slight", "slight-and-dull"]), st.data())
def test_any_spelling_of_a_level_is_that_level(
    bench: Checklist, level: str, data: st.DataObject
) -> None:
    spelled = "".join(
        data.draw(st.sampled_from([sign, sign.upper(), " " if sign == "-" else sign]))
        for sign in level
    )
    assert understand(bench.checks["tap"], spelled) == Answer(level=level)


@pytest.mark.parametrize(
    ("check", "traits", "error", "said"),
    [
        (
            "feler",
            PIN,
            answers.NoSuchCheck,
            "feler: there is no such check (did you mean `feeler`?)",
        ),
        (
            "tilt-change",
            PIN,
            answers.DerivedCheck,
            (
                "tilt-change: it is computed, never asked; give the readings it is made from: "
                "tilt with strings at-pitch and tilt with strings slack"
            ),
        ),
        (
            "pins",
            {"bridge": "floating"},
            answers.CheckDoesNotApply,
            "pins: it does not apply to this instrument: bridge is floating (it is for bridge pin)",
        ),
        (
            "pins",
            {},
            answers.CheckDoesNotApply,
            "pins: it does not apply to this instrument: bridge is unknown (it is for bridge pin)",
        ),
    ],
)
def test_a_check_that_cannot_be_asked_says_why(
    bench: Checklist,
    check: str,
    traits: dict[str, str],
    error: type[answers.AnswerError],
    said: str,
) -> None:
    with pytest.raises(error) as refused:
        find_check(check, bench, traits)
    assert str(refused.value) == said


def test_a_check_that_applies_is_found(bench: Checklist) -> None:
    assert find_check("pins", bench, PIN) is bench.checks["pins"]


@pytest.mark.parametrize("state", ["slack", "off"])
def test_a_check_may_be_read_in_any_setup_that_it_allows(bench: Checklist, state: str) -> None:
    require_setup(bench.checks["feeler"], {"strings": state, "bridge": "on"})


def test_a_wrong_setup_names_those_that_are_right(bench: Checklist) -> None:
    with pytest.raises(answers.WrongSetup) as refused:
        require_setup(bench.checks["feeler"], {"strings": "at-pitch", "bridge": "on"})
    assert str(refused.value) == (
        "feeler: it cannot be read with strings at-pitch "
        "(it needs strings slack or off; say the setup it was read in)"
    )
