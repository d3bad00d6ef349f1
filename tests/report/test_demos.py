"""What the reports of the shipped inspections must not leave out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import Examined, examine, open_inspection
from tailblock.report import Report, build

DEMOS = Path(__file__).parents[2] / "demo_inspections"


def _examined(name: str) -> Examined:
    path = DEMOS / f"{name}.yaml"
    return examine(*open_inspection(path, lambda id_: open_checklist(id_, Shelves())))


@pytest.fixture(scope="module")
def parlour() -> Report:
    """Return the report on a small old guitar with a lost neck angle and a head glued once."""
    return build(_examined("ladder-parlour"))


def test_a_danger_that_no_look_can_clear_is_named_while_others_have_looks(parlour: Report) -> None:
    stringing = parlour.first_page.stringing
    assert "No look can clear it" in stringing.why
    assert "the old repair below the head is giving way" in stringing.why
    assert stringing.clear_with.startswith("Cracks in the bridge")
    (held,) = parlour.held
    assert held.clear_with.endswith("repair: Earlier head repair opening again.")


def test_the_player_is_asked_only_where_no_look_is_left(parlour: Report) -> None:
    asked = [entry.name for entry in parlour.open if "ask the player" in entry.settled_by]
    assert asked == ["Earlier head repair opening again"]  # the same that no look can clear
