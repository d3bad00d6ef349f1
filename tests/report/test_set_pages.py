"""Every page of the reports on paper: whole, within its margins, in order, with its structure."""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from report.edges import EDGES, edge
from report.paper import catalog, opened, tags, text_of
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.report.model import Copy, Report

DEMOS = sorted((Path(__file__).parents[2] / "demo_inspections").glob("*.yaml"))
COPIES: list[Copy] = ["player", "bench"]
MILLIMETRE = 72 / 25.4  # in points
SIDE, HEAD, FOOT = 17.0, 15.0, 17.0  # margins [mm], those of `templates/report.typ`
LEAST_WORDS = 40  # of a page that is not the last: fewer look like a slip


@dataclass(frozen=True)
class Word:
    """A word and where it stands [points], from the left and from above."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


@cache
def _demo(name: str) -> Report:
    path = next(path for path in DEMOS if path.stem == name)
    return build(examine(*open_inspection(path, lambda wanted: open_checklist(wanted, Shelves()))))


@pytest.fixture(scope="module")
def printed(reported: Reported) -> dict[tuple[str, Copy], bytes]:
    """Return what was printed so far; `_pdf` fills it."""
    return {}


@pytest.fixture
def pdf(
    request: pytest.FixtureRequest, reported: Reported, printed: dict[tuple[str, Copy], bytes]
) -> bytes:
    """Return the PDF of a demo or of a report at the edge, printed once."""
    name, copy = request.param
    if request.param not in printed:
        report = edge(reported, name) if name in EDGES else _demo(name)
        printed[request.param] = to_pdf(report, copy=copy)
    return printed[request.param]


NAMES = [*(demo.stem for demo in DEMOS), *EDGES]
EVERY = pytest.mark.parametrize(
    "pdf", [(name, copy) for name in NAMES for copy in COPIES], indirect=True, ids=str
)


def words_of(pdf: bytes) -> list[list[Word]]:
    """Return the words of each page with their places, by poppler."""
    if shutil.which("pdftotext") is None:
        pytest.skip("poppler is not installed")
    done = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    found = re.compile(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>')
    return [
        [Word(text, *map(float, place)) for *place, text in found.findall(page)]
        for page in done.stdout.decode().split("<page ")[1:]
    ]


@EVERY
def test_nothing_stands_in_the_margins(pdf: bytes) -> None:
    for sheet, words in zip(opened(pdf).pages, words_of(pdf), strict=True):
        width, height = (float(side) for side in sheet.mediabox[2:])
        end = height - FOOT * MILLIMETRE
        outside = [
            word
            for word in words
            if word.left < SIDE * MILLIMETRE - 1
            or word.right > width - SIDE * MILLIMETRE + 1
            or word.top < HEAD * MILLIMETRE - 6  # a letter's box is higher than the letter
            or (word.bottom > end + 2 and word.top < end + 2)  # neither text nor the foot
            or word.bottom > height - 5 * MILLIMETRE
        ]
        assert outside == []


@EVERY
def test_no_page_is_nearly_empty(pdf: bytes) -> None:
    *pages, last = words_of(pdf)
    assert [len(page) for page in pages if len(page) < LEAST_WORDS] == []
    assert len(last) >= 15


@EVERY
def test_no_line_lies_upon_another(pdf: bytes) -> None:
    """Words that begin at one place in a line, one over the other, cannot be read."""
    for words in words_of(pdf):
        for one, other in itertools.pairwise(sorted(words, key=lambda w: (round(w.top), w.left))):
            same_line = abs(one.top - other.top) < 1
            assert not (same_line and other.left < one.right - 1 and one.left < other.right - 1), (
                one,
                other,
            )


@EVERY
def test_no_heading_ends_a_page(pdf: bytes) -> None:
    titles = {str(one.title) for one in _flat(opened(pdf).outline)}
    for page in opened(pdf).pages[:-1]:
        *_, last, _ = [line.strip() for line in page.extract_text().splitlines() if line.strip()]
        assert last not in titles


def _flat(outline: Any) -> list[Any]:
    """Return the bookmarks of all levels in their order."""
    if not isinstance(outline, list):
        return [outline]
    return [one for entry in outline for one in _flat(entry)]


@EVERY
def test_it_is_tagged_titled_bookmarked_and_numbered(pdf: bytes) -> None:
    root, reader = catalog(pdf), opened(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert str(reader.metadata.title).startswith("Inspection ")
    places = [reader.get_destination_page_number(one) for one in _flat(reader.outline)]
    assert len(places) >= 3
    assert places == sorted(places)
    for number, page in enumerate(reader.pages, start=1):
        assert f"{number} / {len(reader.pages)}" in page.extract_text()


@EVERY
def test_its_headings_step_down_one_by_one(pdf: bytes) -> None:
    levels = [int(tag[2:]) for tag in tags(pdf) if re.fullmatch(r"/H\d", tag)]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


@EVERY
def test_every_font_is_within(pdf: bytes) -> None:
    fonts = [
        font.get_object()
        for page in opened(pdf).pages
        for font in page["/Resources"].get_object().get("/Font", {}).values()
    ]
    assert fonts
    for font in fonts:
        (described,) = font["/DescendantFonts"]
        kinds = set(described.get_object()["/FontDescriptor"].get_object())
        assert {"/FontFile2", "/FontFile3"} & kinds


CHAPTERS = {
    "player": ["May it be strung", "What is probably wrong", "What can be done", "How to keep it"],
    "bench": [
        "May it be strung", "The instrument and this visit", "Grades part by part", "Findings",
        "Probable causes", "Which faults together", "Safety first", "Recommended work", "Sources",
        "About this report",
    ],
}  # fmt: skip


@pytest.mark.parametrize("copy", COPIES)
@pytest.mark.parametrize("name", [demo.stem for demo in DEMOS])
def test_it_is_read_in_the_order_of_its_pages(
    reported: Reported, printed: dict[tuple[str, Copy], bytes], name: str, copy: Copy
) -> None:
    made = printed.setdefault((name, copy), b"") or to_pdf(_demo(name), copy=copy)
    lines = [line.strip() for line in text_of(made).splitlines()]
    places = [
        next(at for at, line in enumerate(lines) if line.startswith(chapter))
        for chapter in CHAPTERS[copy]
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("pdf", [("150 readings", "bench")], indirect=True, ids=str)
def test_the_head_of_a_long_table_is_on_each_of_its_pages(pdf: bytes) -> None:
    pages = [page.extract_text() for page in opened(pdf).pages]
    within = [text for text in pages if text.count("Reading ") > 3 and "of a long day" in text]
    assert len(within) > 4
    for text in within:
        assert re.search(r"Check\s*Reading\s*Normal\s*Means", text)


@pytest.mark.parametrize("pdf", [("a note of 2,000 words", "bench")], indirect=True, ids=str)
def test_a_long_note_is_whole(pdf: bytes) -> None:
    text = " ".join(text_of(pdf).split())
    assert all(f"The bridge lifts at the back, {number} and more." in text for number in range(250))
