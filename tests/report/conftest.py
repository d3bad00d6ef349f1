"""Reports of inspections written as YAML in the tests, under the checklist of `bench.yaml`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from report.visits import HEAD, HOT_CAR, SOUND, UNREAD
from tailblock.inspection import store
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine
from tailblock.report.build import build

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Report


@pytest.fixture(scope="session")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    """Return the checklist that the reports of this folder rest on."""
    folder = tmp_path_factory.mktemp("checklists") / "bench"
    folder.mkdir()
    text = (Path(__file__).parent / "bench.yaml").read_text(encoding="utf-8")
    (folder / "checklist.yaml").write_text(text, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


@pytest.fixture(scope="session")
def reported(bench: Checklist) -> Reported:
    """Return a maker of reports from the text of the visits; `head` replaces what stands above."""

    def report(visits: str, head: str = HEAD) -> Report:
        inspection = store.from_bytes((head + visits).encode(), Path("job.yaml"), lambda _: bench)
        return build(examine(bench, inspection))

    return report


@pytest.fixture(scope="session")
def hot_car(reported: Reported) -> Report:
    return reported(HOT_CAR)


@pytest.fixture(scope="session")
def sound(reported: Reported) -> Report:
    return reported(SOUND)


@pytest.fixture(scope="session")
def unread(reported: Reported) -> Report:
    return reported(UNREAD)
