"""The report as a browser shows and prints it."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest

from browser.paper import A4, LETTER
from report.visits import HEAD, HOT_CAR, SOUND, UNREAD

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

LONG = "Extraordinarily" * 12
STRANGE = f"\u05e9\u05dc\u05d5\u05dd \u53e4\u3044 <script>alert(1)</script> {LONG}"
MANY = "".join(
    f"      - {{check: saddle-exposure, value: {2 + number % 20 / 10} mm, note: {LONG}}}\n"
    for number in range(150)
)
CASES = {
    "hot car": (HOT_CAR, HEAD),
    "sound": (SOUND, HEAD),
    "unread": (UNREAD, HEAD),
    "strange": (HOT_CAR, HEAD.replace("Small dark guitar with a pin bridge", json.dumps(STRANGE))),
    "150 readings": (HOT_CAR + MANY, HEAD),
}


@pytest.fixture(params=CASES)
def path(request: pytest.FixtureRequest, page_file: Callable[..., Path]) -> Path:
    visits, head = CASES[request.param]
    return page_file(request.param, visits, head)


@pytest.mark.parametrize("width", [1280, 390, 320])
def test_it_loads_nothing_complains_of_nothing_and_fits(
    browser: Browser, path: Path, width: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 900})
    requests: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(path.as_uri())
    assert requests == [path.as_uri()]
    assert said == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    cut = page.evaluate(
        """() => [...document.querySelectorAll('h1,h2,h3,h4,p,li,td,th,dd,dt')]
            .filter(e => !e.closest('thead') && e.scrollWidth > e.clientWidth + 1)
            .map(e => e.textContent.slice(0, 40))"""
    )
    assert cut == []
    page.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints(browser: Browser, path: Path, paper: str) -> None:
    page = browser.new_page()
    page.goto(path.as_uri())
    printed = page.pdf(format=paper, prefer_css_page_size=False)
    assert printed.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type\s*/Page\b", printed)) >= 3
    page.close()


@pytest.mark.parametrize("name", ["hot car", "sound", "unread", "strange"])
@pytest.mark.parametrize(("width", "height"), [A4, LETTER], ids=["A4", "Letter"])
def test_the_players_page_is_one_page(
    browser: Browser, page_file: Callable[..., Path], name: str, width: int, height: int
) -> None:
    visits, head = CASES[name]
    page = browser.new_page(viewport={"width": width, "height": height})
    page.emulate_media(media="print")
    page.goto(page_file(name, visits, head).as_uri())
    assert page.evaluate("document.querySelector('.page-one').offsetHeight") <= height
    page.close()


def test_the_tables_repeat_their_heads_on_paper(
    browser: Browser, page_file: Callable[..., Path]
) -> None:
    visits, head = CASES["150 readings"]
    page = browser.new_page()
    page.emulate_media(media="print")
    page.goto(page_file("many", visits, head).as_uri())
    shown = page.evaluate(
        "[...document.querySelectorAll('thead')].map(e => getComputedStyle(e).display)"
    )
    assert set(shown) == {"table-header-group"}
    page.close()
