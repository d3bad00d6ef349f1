"""What a model judges of one entry by itself, in the words of its message."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.entries import Trait
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from collections.abc import Callable

EVERY_FORM = Path(__file__).parents[1] / "examples" / "good" / "every-form.yaml"
ONE_OF = "one of the two"


@pytest.mark.parametrize(
    ("was", "becomes", "message"),
    [
        ("{symptom: edge-gap, at_least: {slight: usually, open: often}}",
         "{at_least: {slight: usually}}", f"name a `fault` or a `symptom`, {ONE_OF}"),
        ("{symptom: edge-gap, at_least: {slight: usually, open: often}}",
         "{symptom: edge-gap, fault: made-dome, at_least: {slight: usually}}",
         f"name a `fault` or a `symptom`, {ONE_OF}"),
        ("{symptom: edge-gap, at_least: {slight: usually, open: often}}", "{symptom: edge-gap}",
         "say `at_least` which level it shows"),
        ("then: no-evidence", "then: {}",
         "give `widen` (a quantity) or `widen_bands` (normal bands)"),
        ("then: no-evidence", "then: {widen_bands: 9}",
         "`widen_bands` must be less than or equal to 5"),
        ("slack: {check: angle, setup: {strings: slack}}", "slack: {setup: {strings: slack}}",
         f"name a `check` or something `given`, {ONE_OF}"),
        ("levels: [{level: none, up_to: 0.5 mm}, {level: slight, up_to: 3 mm}, {level: open}]",
         "levels_high: [{level: open}]",
         "give `levels`, or `normal` with `levels_low` or `levels_high`"),
        ("      levels_low: [{level: low, down_to: -1 mm}, {level: very-low}]\n", "",
         "`normal` needs `levels_low` or `levels_high` beside it"),
        ("derived: projection_change", "tools: [rule]",
         "a derived check has both `derived` and `from`"),
        ("how: Hold a lamp behind it.", "trap: Hold a lamp behind it.",
         "say `how` it is done, in steps that an apprentice can follow"),
        ("    minutes: 1\n    choices: [{level: \"yes\"", "    choices: [{level: \"yes\"",
         "say how many `minutes` it takes"),
        ("minutes: 2\n    stages", "minutes: -2\n    stages",
         "`minutes` must be greater than or equal to 0"),
        ("minutes: 2\n    stages", "minutes: nan\n    stages", "`minutes` must be a finite number"),
        ("minutes: 2\n    stages", "minutes: 900\n    stages",
         "`minutes` must be less than or equal to 240"),
        ("{low: 2, likely: 3.5, high: 6}", "{low: 2, likely: 1, high: 6}",
         "hours run low <= likely <= high"),
        ("also_speaks: true", "also_speaks: on", "say `true` or `false`"),
        ("controls: [Test on scrap., Wear gloves.]", "controls: []",
         "`controls` must have at least 1"),
    ],
)  # fmt: skip
def test_an_entry_that_contradicts_itself(
    checklist_folder: Callable[..., Path], was: str, becomes: str, message: str
) -> None:
    text = EVERY_FORM.read_text(encoding="utf-8")
    assert was in text
    loaded = load(checklist_folder(text.replace(was, becomes, 1), "every-form"))
    assert message in [problem.message for problem in loaded.problems]


def test_a_derived_check_is_measured(checklist_folder: Callable[..., Path]) -> None:
    text = EVERY_FORM.read_text(encoding="utf-8")
    start = text.index("    measure:\n", text.index("id: angle-change"))
    end = text.index("    derived:", start)
    choices = "    choices: [{level: a, text: A}, {level: b, text: B}]\n"
    loaded = load(checklist_folder(text[:start] + choices + text[end:], "every-form"))
    assert [p.message for p in loaded.problems] == ["a derived check is measured: give `measure`"]


@pytest.mark.parametrize(("values", "may_be"), [(("x", "unknown"), True), (("x", "y"), False)])
def test_a_trait_that_may_be_unknown(values: tuple[str, ...], may_be: bool) -> None:
    assert Trait(id="a", ask="A?", values=values).may_be_unknown is may_be
