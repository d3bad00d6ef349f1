"""A real browser, and reports as files for it."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import sync_playwright

from report.visits import HEAD
from tailblock.inspection import store
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser

BENCH = Path(__file__).parents[1] / "report" / "bench.yaml"


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Return Debian's Chromium; it may be missing at home, never where CI runs."""
    chromium = shutil.which("chromium")
    if chromium is None and "CI" not in os.environ:
        pytest.skip("chromium is not installed")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield started
        started.close()


@pytest.fixture(scope="session")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Return a writer of report pages from the text of the visits."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "bench").mkdir()
    shutil.copy(BENCH, folder / "bench" / "checklist.yaml")
    checklist = load(folder / "bench").checklist
    assert checklist is not None

    def write(name: str, visits: str, head: str = HEAD) -> Path:
        inspection = store.from_bytes((head + visits).encode(), folder / name, lambda _: checklist)
        path = folder / f"{name}.html"
        path.write_text(to_html(build(examine(checklist, inspection))), encoding="utf-8")
        return path

    return write
