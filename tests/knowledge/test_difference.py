"""What changed in meaning between two checklists, as lines that a person reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from knowledge.test_dependents import BRIDGE
from tailblock.knowledge.difference import differences

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

LONG = "Slide it along the whole of the back edge, and then once more along both of the wings."


@pytest.mark.parametrize(
    ("old", "new", "entry", "lines"),
    [
        ("version: 1.0.0", "version: 1.1.0", "checklist small", ["version: 1.0.0 -> 1.1.0"]),
        ("alone: seldom, harm: serious", "alone: 0.2, harm: serious", "fault lifting",
         ["alone: seldom -> 0.2 (sometimes)"]),
        ("harm: serious", "harm: destructive", "fault lifting", ["harm: serious -> destructive"]),
        ("strength: often", "strength: usually", "fault lifting",
         ["caused_by heated strength: often -> usually"]),
        ("[{fault: heated, strength: often}]", "[]", "fault lifting",
         ["caused_by: heated, often, removed"]),
        ("shift: 1", "shift: -1", "fault lifting", ["alone_when bridge pin shift: 1 -> -1"]),
        ("{light: usually}", "{light: often}", "check look",
         ["shows gap at_least light: usually -> often"]),
        ("how: Slide it., minutes: 1", "how: Slide it., minutes: 2.5", "check feel",
         ["minutes: 1 -> 2.5"]),
        ("how: Slide it.", f'how: "{LONG}"', "check feel", ["how: reworded"]),
        ("{level: firm, text: No}, {level: moves", "{level: firm, text: No}, {level: rocks",
         "check press", ["choices: rocks added", "choices: moves removed",
                         "shows lifting at_least moves: sometimes -> nothing",
                         "shows lifting at_least rocks: nothing -> sometimes"]),
        ("reversible: true", "reversible: false", "remedy reglue", ["reversible: true -> false"]),
        ("opening: [look]", "opening: [look, press]", "stage arrival", ["opening: press added"]),
    ],
)  # fmt: skip
def test_a_change_is_told_by_field_with_chances_in_words(
    old: str, new: str, entry: str, lines: list[str], checklist: Callable[..., Checklist]
) -> None:
    assert BRIDGE.count(old) == 1
    text = BRIDGE.replace(old, new).replace("{moves:", "{rocks:" if "rocks" in new else "{moves:")
    (change,) = differences(checklist(BRIDGE), checklist(text))
    assert (f"{change.kind} {change.id}", change.what) == (entry, "changed")
    assert sorted(change.lines) == sorted(lines)


def test_what_is_added_and_what_is_gone_are_named(checklist: Callable[..., Checklist]) -> None:
    renamed = BRIDGE.replace("id: press", "id: push").replace("opening: [look]", "opening: [feel]")
    found = differences(checklist(BRIDGE), checklist(renamed))
    assert [(each.kind, each.id, each.what, each.lines) for each in found] == [
        ("stage", "arrival", "changed", ("opening: feel added", "opening: look removed")),
        ("check", "push", "added", ("Press",)),
        ("check", "press", "removed", ("Press",)),
    ]


def test_the_same_in_other_files_with_comments_is_no_change(
    checklist: Callable[..., Checklist],
) -> None:
    head, faults = BRIDGE.split("faults:\n")
    split = {"checklist.yaml": head, "faults.yaml": "# elsewhere\nfaults:\n" + faults}
    assert differences(checklist(BRIDGE), checklist(split)) == ()


def test_only_the_order_of_a_list(checklist: Callable[..., Checklist]) -> None:
    one = BRIDGE.replace("opening: [look]", "opening: [look, feel]")
    two = BRIDGE.replace("opening: [look]", "opening: [feel, look]")
    (change,) = differences(checklist(one), checklist(two))
    assert change.lines == ("opening: in another order",)
