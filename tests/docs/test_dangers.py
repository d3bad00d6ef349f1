"""What the page of dangers says holds: careful looking clears every danger, or the page says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from demos import shipped
from docs.dangers import PAGE, Kind, dangers, outside, slack

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture(scope="module")
def flat_top() -> Checklist:
    return shipped("flat-top")


@pytest.fixture(scope="module")
def worst(flat_top: Checklist) -> dict[str, Kind]:
    return dict(dangers(flat_top))


# Only a hand, a mirror or a film inside shows these; from outside they stay open, and where the
# inside cannot be reached they are held back for good (common practice, no source).
ONLY_INSIDE = {"brace-loose-main", "brace-broken"}
# Its shape shows outside as well; seven looks there bring it about to the limit, one film inside
# far below it.
EITHER_WAY = {"transverse-bar-loose"}


def test_careful_looking_with_slack_strings_clears_every_danger(
    flat_top: Checklist, worst: dict[str, Kind]
) -> None:
    limit = flat_top.limits.danger
    for fault, kind in worst.items():
        assert kind.chance(fault, kind.looks(fault, slack)) < limit, (fault, kind.name)
        left = kind.chance(fault, kind.looks(fault, outside))
        if fault not in EITHER_WAY:
            assert (left >= limit) == (fault in ONLY_INSIDE), (fault, kind.name, left)


def test_a_shortest_way_ends_below_the_limit_and_within_a_quarter_of_an_hour(
    flat_top: Checklist, worst: dict[str, Kind]
) -> None:
    limit = flat_top.limits.danger
    for fault, kind in worst.items():
        way = list(kind.shortest_way(fault, limit))
        if kind.starts[fault] < limit:
            assert way == []
        else:
            assert way[-1][1] < limit, fault
            assert sum(check.minutes for check, _ in way) <= 15, fault


def test_the_page_names_every_danger_of_the_checklist(worst: dict[str, Kind]) -> None:
    told = PAGE.read_text(encoding="utf-8")
    for fault in worst:
        assert f"| `{fault}` |" in told
