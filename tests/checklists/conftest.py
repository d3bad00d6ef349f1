"""Fixtures of this folder: the shipped checklists, read once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture(scope="session")
def flat_top() -> Checklist:
    """Return the checklist of the steel-string flat-top."""
    return open_checklist("flat-top", Shelves())
