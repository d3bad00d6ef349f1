"""The shipped checklists, read once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined

DEMOS = Path(__file__).parents[2] / "demo_inspections"


def find(name: str) -> Checklist:
    return open_checklist(name, Shelves())


@pytest.fixture(scope="session")
def flat_top() -> Checklist:
    return find("flat-top")


@pytest.fixture(scope="session")
def twelve() -> Checklist:
    return find("twelve-string")


@pytest.fixture(scope="session")
def nylon() -> Checklist:
    return find("nylon-string")


@pytest.fixture(scope="session")
def demo() -> Callable[[str], Examined]:
    """Return a reader of demo inspections, each examined once."""
    known: dict[str, Examined] = {}

    def of(name: str) -> Examined:
        if name not in known:
            known[name] = examine(*open_inspection(DEMOS / f"{name}.yaml", find))
        return known[name]

    return of
