"""The checklists that ship with tailblock are in order."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.library import checklists_in, shipped_roots
from tailblock.knowledge.lint import lint
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

SHIPPED = [folder for root in shipped_roots() for folder in checklists_in(root)]


def test_some_are_shipped() -> None:
    assert "flat-top" in [folder.name for folder in SHIPPED]


@pytest.mark.parametrize("folder", SHIPPED, ids=lambda folder: folder.name)
def test_a_shipped_checklist_has_no_error(folder: Path) -> None:
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    errors = [str(problem) for problem in lint(loaded.checklist) if problem.severity == "error"]
    assert errors == []
