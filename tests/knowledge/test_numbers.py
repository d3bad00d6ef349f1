"""The chances of an entry, and a checklist with one of them moved by a word."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from knowledge.test_dependents import BRIDGE
from tailblock.knowledge.numbers import numbers_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist


@pytest.fixture
def bridge(checklist: Callable[..., Checklist]) -> Checklist:
    text = BRIDGE.replace("alone: rarely", "alone: 0.02").replace(
        "{moves: sometimes}", "{moves: 0.98}"
    )
    return checklist(text)


@pytest.mark.parametrize(
    ("kind", "entry", "numbers"),
    [
        (
            "fault",
            "lifting",
            {
                "lifting alone": "seldom",
                "heated brings about lifting": "often",
                "lifting brings about gap": "almost-always",
                "press shows lifting": "0.98 (almost-always)",
            },
        ),
        ("symptom", "gap", {
            "gap alone": "0.02 (rarely)",
            "lifting brings about gap": "almost-always",
            "look shows gap": "usually",
            "feel shows gap": "usually",
        }),
        ("check", "look", {"look shows gap": "usually"}),
        ("remedy", "reglue", {}),
    ],
)  # fmt: skip
def test_the_numbers_of_an_entry(
    kind: str, entry: str, numbers: dict[str, str], bridge: Checklist
) -> None:
    assert {each.says: each.words for each in numbers_of(bridge, kind, entry)} == numbers


def test_a_number_moved_is_the_same_checklist_but_for_that(bridge: Checklist) -> None:
    (alone, *_) = numbers_of(bridge, "fault", "lifting")
    other, words = alone.moved(bridge, 1) or (None, "")
    assert other is not None
    assert (other.faults["lifting"].alone, words) == (0.30, "sometimes")
    back, _ = alone.moved(other, 0) or (bridge, "")
    assert back.digest == bridge.digest
    changed = {id_ for id_ in bridge.faults if other.faults[id_] != bridge.faults[id_]}
    assert changed == {"lifting"}
    assert (other.checks, other.symptoms) == (bridge.checks, bridge.symptoms)


def test_the_levels_of_a_link_move_together(checklist: Callable[..., Checklist]) -> None:
    """At least open stays no likelier than at least light."""
    levels = BRIDGE.replace(
        "{level: light, text: Yes}]", "{level: light, text: Yes}, {level: open, text: Much}]"
    ).replace("{light: usually}", "{light: usually, open: usually}")
    known = checklist(levels)
    (link,) = numbers_of(known, "check", "look")
    for steps, chance in ((1, 0.95), (-1, 0.60)):
        other, words = link.moved(known, steps) or (known, "")
        assert other.checks["look"].shows[0].at_least == {"light": chance, "open": chance}
        assert words in ("almost-always", "often")


@pytest.mark.parametrize(
    ("says", "steps"), [("lifting brings about gap", 1), ("press shows lifting", 1)]
)
def test_beyond_the_last_word_there_is_nothing(says: str, steps: int, bridge: Checklist) -> None:
    """0.98 lies above the word `almost-always` (0.95), and up is not down."""
    (number,) = (each for each in numbers_of(bridge, "fault", "lifting") if each.says == says)
    assert number.moved(bridge, steps) is None
