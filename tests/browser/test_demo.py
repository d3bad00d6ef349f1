"""The reports of the shipped inspections, as a player gets them: the first page is one page."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from browser.paper import A4, LETTER
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

DEMOS = sorted((Path(__file__).parents[2] / "demo_inspections").glob("*.yaml"))


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
@pytest.mark.parametrize(("width", "height"), [A4, LETTER], ids=["A4", "Letter"])
def test_the_players_page_is_one_page(
    browser: Browser, tmp_path: Path, demo: Path, width: int, height: int
) -> None:
    opened = open_inspection(demo, lambda name: open_checklist(name, Shelves()))
    file = tmp_path / "report.html"
    file.write_text(to_html(build(examine(*opened))), encoding="utf-8")
    page = browser.new_page(viewport={"width": width, "height": height})
    page.emulate_media(media="print")
    page.goto(file.as_uri())
    assert page.evaluate("document.querySelector('.page-one').offsetHeight") <= height
    page.close()
