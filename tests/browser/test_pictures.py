"""The pictures of a report in a real browser: letters stay within, none lies on another."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest

from report.visits import HEAD, HOT_CAR

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

AGAIN = """
  - stage: follow-up
    date: 2031-03-30
    setup: {strings: at-pitch}
    readings:
      - {check: action-12-bass, value: 7/64 in}
      - {check: belly-across, value: 7.4 mm}
      - {check: saddle-exposure, value: 4 mm}
"""
SEEN = """
() => [...document.querySelectorAll('svg.picture')].map(svg => {
  const box = e => {
    const b = e.getBoundingClientRect();
    return [b.left, b.top, b.right, b.bottom];
  };
  return {
    kind: svg.getAttribute('class').split(' ')[1],
    around: box(svg),
    named: svg.getAttribute('aria-labelledby').split(' ')
      .every(id => document.getElementById(id).textContent.trim()),
    texts: [...svg.querySelectorAll('text')].map(e => ({said: e.textContent, at: box(e)})),
  };
})
"""
LITTLE = 1.0  # px: what a rounded place may be off


@pytest.mark.parametrize("width", [1280, 390])
def test_letters_stay_within_and_none_lies_on_another(
    browser: Browser, page_file: Callable[..., Path], width: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.goto(page_file("twice", HOT_CAR + AGAIN, HEAD).as_uri())
    pictures = page.evaluate(SEEN)
    page.close()
    kinds = {picture["kind"] for picture in pictures}
    assert kinds >= {"key", "gauge", "change", "evidence", "hours"}
    for picture in pictures:
        assert picture["named"]
        left, top, right, bottom = picture["around"]
        assert right > left
        for text in picture["texts"]:
            at = text["at"]
            assert left - LITTLE <= at[0] <= at[2] <= right + LITTLE, text
            assert top - 3 <= at[1] <= at[3] <= bottom + 3, text  # a line's room is its font's
        for one, other in combinations(picture["texts"], 2):
            assert not _meet(one["at"], other["at"]), (one, other)


def _meet(one: list[float], other: list[float]) -> bool:
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > LITTLE and down > 0.3 * (one[3] - one[1])
