"""The apprentice's check beside the advised one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.inspection import store
from tailblock.inspection.answers import NoSuchCheck
from tailblock.pipeline import Examined, examine
from tailblock.practice.teaching import beside

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

HEAD = """\
tailblock: 1
job: "1"
checklist: bench
instrument: {description: a guitar, traits: {bridge: pin}}
visits:
  - stage: arrival
    date: 2031-03-02
"""


def examined(bench: Checklist, strings: str, readings: str) -> Examined:
    text = f"{HEAD}    setup: {{strings: {strings}}}\n    readings: [{readings}]\n"
    return examine(bench, store.from_bytes(text.encode(), Path("job.yaml"), lambda _: bench))


def test_both_are_worth_what_the_advice_says_they_are(bench: Checklist) -> None:
    seen = examined(bench, "at-pitch", "{check: smell, value: wood}")
    by_check = {entry.check: entry for entry in seen.advice.advice}
    first = seen.advice.advice[0]
    compared = beside(seen, "relief", first)
    assert compared.yours.bits == pytest.approx(by_check["relief"].gain_bits)
    assert compared.advised.bits == pytest.approx(first.gain_bits)
    assert (compared.yours.minutes, compared.yours.setup_minutes) == (2.0, 0.0)
    assert (first.check, compared.same) == ("edge-look", False)


def test_what_the_own_check_is_blind_for(bench: Checklist) -> None:
    seen = examined(bench, "at-pitch", "{check: smell, value: wood}")
    first = seen.advice.advice[0]
    assert beside(seen, "relief", first).blind == ("bridge-lifting",)
    assert beside(seen, first.check, first).blind == ()
    assert beside(seen, first.check, first).same


@pytest.mark.parametrize(
    ("strings", "readings", "check", "expected"),
    [  # held, read, minutes to get there
        ("at-pitch", "", "relief", (False, False, 0.0)),
        ("slack", "", "relief", (True, False, 8.0)),  # a danger is open from the start
        ("slack", "{check: edge-look, value: dark}", "relief", (False, False, 8.0)),
        ("at-pitch", "", "neck-load", (True, False, 0.0)),
        ("at-pitch", "{check: smell, value: wood}", "smell", (False, True, 0.0)),
    ],
)
def test_what_is_held_back_or_read_is_told(
    strings: str,
    readings: str,
    check: str,
    expected: tuple[bool, bool, float],
    bench: Checklist,
) -> None:
    seen = examined(bench, strings, readings)
    yours = beside(seen, check, seen.advice.advice[0]).yours
    assert (yours.held, yours.read, yours.setup_minutes) == expected
    assert yours.bits == 0.0 if yours.read else yours.bits > 0.0


def test_a_check_that_there_is_not(bench: Checklist) -> None:
    seen = examined(bench, "at-pitch", "")
    with pytest.raises(NoSuchCheck):
        beside(seen, "relef", seen.advice.advice[0])
