"""The reports of the shipped inspections, as a player gets them: the first page is one page."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from browser.paper import A4, LETTER
from demos import DEMOS, demo_report, examined_demo
from report.paper import text_of
from tailblock.inspection.shop import Shop, read_shop
from tailblock.report.build import build
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

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


@pytest.fixture(scope="module", params=["", SHOP], ids=["no shop", "a shop"])
def shop(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Shop | None:
    folder = tmp_path_factory.mktemp("shop")
    (folder / "shop.yaml").write_text(request.param, encoding="utf-8")
    (folder / "logo.svg").write_text(LOGO, encoding="utf-8")
    return read_shop(folder / "shop.yaml") if request.param else None


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_the_players_page_is_one_page(
    browser: Browser, tmp_path: Path, demo: Path, shop: Shop | None
) -> None:
    file = tmp_path / "report.html"
    file.write_text(to_html(build(examined_demo(demo.stem), shop=shop)), encoding="utf-8")
    for width, height in (A4, LETTER):
        page = browser.new_page(viewport={"width": width, "height": height})
        page.emulate_media(media="print")
        page.goto(file.as_uri())
        assert page.evaluate("document.querySelector('.page-one').offsetHeight") <= height
        page.close()


LEAST_WORDS = 40  # of a page: fewer are the end of something that should have stayed together


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_no_printed_page_is_a_leftover(browser: Browser, tmp_path: Path, demo: Path) -> None:
    report = demo_report(demo.stem)
    for copy in ("player", "bench"):
        file = tmp_path / f"{copy}.html"
        file.write_text(to_html(report, copy=copy), encoding="utf-8")
        page = browser.new_page()
        page.goto(file.as_uri())
        pages = text_of(page.pdf(format="A4", prefer_css_page_size=False)).split("\f")[:-1]
        page.close()
        assert [len(words) for words in map(str.split, pages) if len(words) < LEAST_WORDS] == []
        assert "not an appraisal of value" not in pages[-1] or "The words used here" in pages[-1]
