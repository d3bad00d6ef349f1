"""Profiles for hypothesis, and a checklist from YAML text."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

# As the command does it, and before anything imports numpy: threads of neighbours that test as well
# would wait for each other.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True, print_blob=True)
settings.register_profile("deep", max_examples=5_000, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci" if "CI" in os.environ else "dev"))

Files = str | Mapping[str, str]


@pytest.fixture(autouse=True, scope="session")
def _nothing_kept_at_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what commands keep between runs away from the user's own folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("kept")))
        yield


@pytest.fixture
def checklist_folder(tmp_path: Path) -> Callable[..., Path]:
    """Return a writer of checklists: the text of `checklist.yaml`, or of several files by name."""

    def write(files: Files, name: str = "small") -> Path:
        folder = tmp_path / name
        by_name = {"checklist.yaml": files} if isinstance(files, str) else files
        for file, text in by_name.items():
            path = folder / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="")
        return folder

    return write


@pytest.fixture
def checklist(checklist_folder: Callable[..., Path]) -> Callable[..., Checklist]:
    """Return a reader of checklists from YAML text; one that cannot be loaded fails the test."""

    def read(files: Files, name: str = "small") -> Checklist:
        loaded = load(checklist_folder(files, name))
        assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
        return loaded.checklist

    return read
