"""Before heat, steam or a solvent there is a look that harms nothing and may spare it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

LOOK = re.compile(
    r"\b(film|mirror|look|read|relief strung|find out|know|straightedge|hidden place|spot test)\b",
    re.IGNORECASE,
)
DOES = re.compile(r"\b(warm|warmed|heat|steam|solvent|thinner|iron|shellac)\b", re.IGNORECASE)


def steps(how: str) -> list[str]:
    """Return the numbered steps of a remedy."""
    return [
        " ".join(step.split())
        for step in re.split(r"^\s*\d+\.", how, flags=re.MULTILINE)
        if step.strip()
    ]


def test_a_look_stands_before_the_first_heat_or_solvent(flat_top: Checklist) -> None:
    told = 0
    for remedy in flat_top.remedies.values():
        if not {"heat", "steam", "solvent"} & set(remedy.hazards):
            continue
        text = " ".join(steps(remedy.how or ""))
        does = DOES.search(text)
        if does is None:  # the heat is that of the glue
            continue
        told += 1
        assert LOOK.search(text[: does.start()]), (remedy.id, text[: does.end()])
    assert told >= 20


@pytest.mark.parametrize("field", ["how", "plain", "materials"])
def test_a_remedy_says_what_is_done_with_what_and_in_the_players_words(
    field: str, flat_top: Checklist
) -> None:
    for remedy in flat_top.remedies.values():
        assert getattr(remedy, field), remedy.id


def test_a_remedy_is_more_than_a_line(flat_top: Checklist) -> None:
    for remedy in flat_top.remedies.values():
        assert len(steps(remedy.how or "")) >= 3, remedy.id


def test_hours_leave_room_on_both_sides(flat_top: Checklist) -> None:
    # what the work is like is known only once it is under way; no price is made from one number
    for remedy in flat_top.remedies.values():
        hours = remedy.hours
        assert hours.low < hours.likely < hours.high, remedy.id
        assert hours.high >= 1.3 * hours.likely, remedy.id
