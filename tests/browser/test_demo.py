"""The reports of the shipped inspections, as a player gets them: the first page is one page."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from browser.paper import A4, LETTER
from demos import shipped
from report.paper import text_of
from tailblock.inspection.shop import read_shop
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

DEMOS = sorted((Path(__file__).parents[2] / "demo_inspections").glob("*.yaml"))


SHOP = """\
tailblock: 1
name: A bench by the river
address: [Some street 1, Some town, tel. 000 0000]
currency: EUR
rate: 62.50
logo: {file: logo.svg, text: A plane over a wave}
"""
LOGO = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 60">'
    '<rect width="120" height="60" fill="#5b2a86"/></svg>'
)


@pytest.mark.parametrize("shop", ["", SHOP], ids=["no shop", "a shop"])
@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_the_players_page_is_one_page(
    browser: Browser, tmp_path: Path, demo: Path, paper: tuple[int, int], shop: str
) -> None:
    width, height = paper
    opened = open_inspection(demo, shipped)
    (tmp_path / "shop.yaml").write_text(shop, encoding="utf-8")
    (tmp_path / "logo.svg").write_text(LOGO, encoding="utf-8")
    of_shop = read_shop(tmp_path / "shop.yaml") if shop else None
    file = tmp_path / "report.html"
    file.write_text(to_html(build(examine(*opened), shop=of_shop)), encoding="utf-8")
    page = browser.new_page(viewport={"width": width, "height": height})
    page.emulate_media(media="print")
    page.goto(file.as_uri())
    assert page.evaluate("document.querySelector('.page-one').offsetHeight") <= height
    page.close()


LEAST_WORDS = 40  # of a page: fewer are the end of something that should have stayed together


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_no_printed_page_is_a_leftover(browser: Browser, tmp_path: Path, demo: Path) -> None:
    opened = open_inspection(demo, lambda name: open_checklist(name, Shelves()))
    report = build(examine(*opened))
    for copy in ("player", "bench"):
        file = tmp_path / f"{copy}.html"
        file.write_text(to_html(report, copy=copy), encoding="utf-8")
        page = browser.new_page()
        page.goto(file.as_uri())
        pages = text_of(page.pdf(format="A4", prefer_css_page_size=False)).split("\f")[:-1]
        page.close()
        assert [len(words) for words in map(str.split, pages) if len(words) < LEAST_WORDS] == []
        assert "not an appraisal of value" not in pages[-1] or "The words used here" in pages[-1]
