"""The shipped checklists, read once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from demos import examined_demo, shipped

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined


@pytest.fixture(scope="session")
def flat_top() -> Checklist:
    return shipped("flat-top")


@pytest.fixture(scope="session")
def twelve() -> Checklist:
    return shipped("twelve-string")


@pytest.fixture(scope="session")
def nylon() -> Checklist:
    return shipped("nylon-string")


@pytest.fixture(scope="session")
def demo() -> Callable[[str], Examined]:
    """Return a reader of demo inspections, each examined once."""
    return examined_demo
