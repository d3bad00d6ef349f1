"""A picture in a page and by itself: well-formed, named, and nothing typed is read as markup."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from report.contrast import contrast
from report.pages import read
from tailblock.report.pictures import svg
from tailblock.report.pictures.labels import side_by_side, spread
from tailblock.report.pictures.picture import SPACE, Picture
from tailblock.report.pictures.svg import group, hatch, label
from tailblock.report.plain import printable

HOSTILE = '<script>alert(1)</script> " onload="x" \' ]]> --> & &lt; {{ 7 * 7 }} #panic() \u202e\x07'
FORBIDDEN = re.compile(
    r"url\(|href|<style|<script|<image|<use|<foreignObject|\son\w+=", re.IGNORECASE
)


def picture(text: str) -> Picture:
    return Picture("gauge", text, text, 100, 20, group([label(5, 12, text)]))


@pytest.mark.parametrize("typed", [HOSTILE, "\u05e9\u05dc\u05d5\u05dd", "\u53e4\u3044", "\x00"])
def test_typed_text_is_text(typed: str) -> None:
    root = ET.fromstring(str(picture(typed).alone()))  # noqa: S314  (it is our own)
    assert [node.text for node in root] == [printable(typed)] * 3
    page = read(str(picture(typed).inline("picture-1")))
    assert [tag.name for tag in page.tags] == ["svg", "title", "desc", "text"]


@given(st.text(max_size=60))
def test_any_text_makes_well_formed_xml(typed: str) -> None:
    ET.fromstring(str(picture(typed).alone()))  # noqa: S314  (it is our own)


def test_inside_a_page_it_is_named_and_described_by_its_own_words() -> None:
    svg_tag, title, text, _ = read(str(picture("Action").inline("picture-7"))).tags
    assert svg_tag.attributes["role"] == "img"
    assert svg_tag.attributes["aria-labelledby"] == "picture-7-title picture-7-text"
    assert (title.attributes["id"], text.attributes["id"]) == ("picture-7-title", "picture-7-text")
    assert "xmlns" not in svg_tag.attributes  # HTML needs none, and a page names no address


def test_by_itself_it_is_a_file_in_the_letters_of_the_pdf() -> None:
    root = ET.fromstring(str(picture("Action").alone()))  # noqa: S314  (it is our own)
    assert root.tag == f"{{{SPACE}}}svg"
    assert root.get("font-family") == "Libertinus Serif"


def test_it_needs_nothing_that_a_page_forbids() -> None:
    assert not FORBIDDEN.search(str(picture("Action").inline("a")))


@given(
    st.lists(st.tuples(st.floats(0, 500), st.floats(1, 60)), min_size=1, max_size=8),
)
def test_labels_in_a_row_never_meet(wished: list[tuple[float, float]]) -> None:
    wished.sort()
    middles, sizes = zip(*wished, strict=True)
    found = spread(middles, sizes, 0, 500)
    assert found is not None
    assert found[0] - sizes[0] / 2 >= -1e-9
    assert found[-1] + sizes[-1] / 2 <= 500 + 1e-9
    for at in range(len(found) - 1):
        assert found[at] + sizes[at] / 2 <= found[at + 1] - sizes[at + 1] / 2 + 1e-9


def test_what_does_not_meet_stays_where_it_wishes() -> None:
    assert side_by_side([0, 20, 90], [10, 10, 10]) == [0, 20, 90]


@given(st.floats(1, 300), st.floats(1, 60), st.floats(2, 20), st.booleans())
def test_a_hatch_stays_within_its_field(
    width: float, height: float, gap: float, falling: bool
) -> None:
    numbers = [
        float(n)
        for n in re.findall(r"-?[\d.]+", hatch(0, 0, width, height, gap=gap, falling=falling))
    ]
    assert all(-0.06 <= x <= width + 0.06 for x in numbers[::2])
    assert all(-0.06 <= y <= height + 0.06 for y in numbers[1::2])


GROUNDS = [svg.PAPER, svg.CALM, svg.WATCH_GROUND, svg.WARN_GROUND]


# WCAG 2 SC 1.4.3 (AA): 4.5 to 1 for text
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("letters", [svg.INK, svg.SOFT, svg.WARN])
def test_letters_stand_out_from_every_ground(letters: str, ground: str) -> None:
    assert contrast(letters, ground) >= 4.5


# WCAG 2 SC 1.4.11 (AA): 3 to 1 for what is needed to understand a drawing
@pytest.mark.parametrize("ground", GROUNDS)
def test_edges_stand_out_from_every_ground(ground: str) -> None:
    assert contrast(svg.CALM_EDGE, ground) >= 3
