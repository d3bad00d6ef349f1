"""Inspections written as YAML in the tests, read under one small checklist."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from builders import BENCH, HEAD, Read
from tailblock.inspection import store
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture(scope="session")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    """Return the checklist that the inspections of this folder use."""
    folder = tmp_path_factory.mktemp("checklists") / "bench"
    folder.mkdir()
    (folder / "checklist.yaml").write_text(BENCH, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


@pytest.fixture(scope="session")
def inspection(bench: Checklist) -> Read:
    """Return a reader of inspections: the text of the visits, or of the whole file."""

    def read(text: str, *, whole: bool = False) -> Inspection:
        content = text if whole else HEAD + text
        return store.from_bytes(content.encode(), Path("job.yaml"), lambda _: bench)

    return read
