"""Graphs as a browser draws them: letters fit, words keep apart, light and dark can be read."""

from __future__ import annotations

import re
from itertools import combinations
from typing import TYPE_CHECKING, Any, Literal

import pytest

from demos import shipped
from tailblock.knowledge.graph import graph_of_fault, graph_of_part
from tailblock.report.graph_svg import to_svg

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.graph import Graph

pytestmark = pytest.mark.browser

LOOK = """() => {
  const box = e => { const b = e.getBBox(); return [b.x, b.y, b.x + b.width, b.y + b.height]; };
  const style = (e, name) => getComputedStyle(e)[name];
  const all = (query) => [...document.querySelectorAll(query)];
  return {
    size: box(document.querySelector('.paper')),
    boxes: all('rect.box').map(box),
    texts: all('text').map(e => ({kind: e.getAttribute('class') || 'name', at: box(e),
                                  fill: style(e, 'fill')})),
    paper: style(document.querySelector('.paper'), 'fill'),
    fill: all('rect.box').map(e => style(e, 'fill')),
  };
}"""


@pytest.fixture(scope="module")
def flat_top() -> Checklist:
    return shipped("flat-top")


def looked_at(
    browser: Browser, graph: Graph, folder: Path, scheme: Literal["light", "dark"]
) -> dict[str, Any]:
    path = folder / "graph.svg"
    path.write_text(to_svg(graph), encoding="utf-8")
    page = browser.new_page(color_scheme=scheme)
    page.goto(path.as_uri())
    seen: dict[str, Any] = page.evaluate(LOOK)
    page.close()
    return seen


def inside(one: list[float], other: list[float]) -> bool:
    return all(a >= b for a, b in zip(one[:2], other[:2], strict=True)) and all(
        a <= b for a, b in zip(one[2:], other[2:], strict=True)
    )


def overlap(one: list[float], other: list[float]) -> bool:
    return (
        one[0] < other[2] and other[0] < one[2] and one[1] + 2 < other[3] and other[1] + 2 < one[3]
    )


@pytest.mark.parametrize("part", ["neck-joint", "top", "bridge"])
def test_the_letters_of_a_part_fit(
    part: str, browser: Browser, flat_top: Checklist, tmp_path: Path
) -> None:
    fits(looked_at(browser, graph_of_part(flat_top, part), tmp_path, "light"))


@pytest.mark.parametrize("fault", ["bridge-lifting", "neck-angle-lost", "climate-dry", "made-dome"])
def test_the_letters_of_a_fault_fit(
    fault: str, browser: Browser, flat_top: Checklist, tmp_path: Path
) -> None:
    fits(looked_at(browser, graph_of_fault(flat_top, fault, 2), tmp_path, "light"))


def fits(seen: dict[str, Any]) -> None:
    for text in seen["texts"]:
        assert inside(text["at"], seen["size"]), text
        if text["kind"] in ("name", "about"):
            assert any(inside(text["at"], box) for box in seen["boxes"]), text
    words = [text["at"] for text in seen["texts"] if text["kind"] == "word"]
    assert words
    assert not any(overlap(one, other) for one, other in combinations(words, 2))
    assert not any(overlap(word, box) for word in words for box in seen["boxes"])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_on_light_and_on_dark(
    scheme: Literal["light", "dark"], browser: Browser, flat_top: Checklist, tmp_path: Path
) -> None:
    seen = looked_at(browser, graph_of_fault(flat_top, "made-dome"), tmp_path, scheme)
    assert (luminance(seen["paper"]) < 0.5) == (scheme == "dark")
    for text in seen["texts"]:
        for ground in (seen["paper"], *seen["fill"]):
            # WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1
            light, dark = sorted((luminance(text["fill"]), luminance(ground)), reverse=True)
            assert (light + 0.05) / (dark + 0.05) >= 4.5


def luminance(colour: str) -> float:
    """Return the relative luminance of an sRGB colour (WCAG 2.2, definitions; from memory)."""
    parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(w * p for w, p in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
