"""Every page of the reports on paper: whole, within its margins, in order, with its structure."""

from __future__ import annotations

import itertools
import os
import re
import shutil
import subprocess
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import pytest

from demos import DEMOS, demo_report
from report.edges import EDGES, edge
from report.paper import opened, tags, text_of
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from report.visits import Reported
    from tailblock.report.model import Copy

COPIES: list[Copy] = ["player", "bench"]
MILLIMETRE = 72 / 25.4  # in points
SIDE, HEAD, FOOT = 17.0, 15.0, 17.0  # margins [mm], those of `templates/report.typ`
_FOOT = re.compile(r"\d+ / \d+|^Job .* copy$")
LEAST_WORDS = 40  # of a page that is not the last: fewer look like a slip


@dataclass(frozen=True)
class Word:
    """A word and where it stands [points], from the left and from above."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


class Printed:
    """A PDF, and what its readers find in it; each is asked once."""

    def __init__(self, pdf: bytes) -> None:
        self.pdf = pdf
        self.reader = opened(pdf)

    @cached_property
    def texts(self) -> list[str]:
        """Return the text of each page, in the order in which it was written."""
        return text_of(self.pdf).split("\f")[:-1]

    @cached_property
    def words(self) -> list[list[Word]]:
        """Return the words of each page with their places, by poppler."""
        done = subprocess.run(
            ["pdftotext", "-bbox", "-", "-"], input=self.pdf, capture_output=True, check=True
        )
        word = re.compile(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>')
        return [
            [Word(text, *map(float, place)) for *place, text in word.findall(page)]
            for page in done.stdout.decode().split("<page ")[1:]
        ]


@pytest.fixture(scope="module")
def so_far() -> dict[tuple[str, Copy], Printed]:
    """Return what was printed so far."""
    return {}


@pytest.fixture
def printed(
    request: pytest.FixtureRequest, reported: Reported, so_far: dict[tuple[str, Copy], Printed]
) -> Printed:
    """Return a demo or a report at the edge on paper, printed once."""
    if shutil.which("pdftotext") is None and "CI" not in os.environ:
        pytest.skip("poppler is not installed")
    name, copy = request.param
    if request.param not in so_far:
        report = edge(reported, name) if name in EDGES else demo_report(name)
        so_far[request.param] = Printed(to_pdf(report, copy=copy))
    return so_far[request.param]


NAMES = [*(demo.stem for demo in DEMOS), *EDGES]
EVERY = pytest.mark.parametrize(
    "printed", [(name, copy) for name in NAMES for copy in COPIES], indirect=True, ids=str
)


@EVERY
def test_nothing_stands_in_the_margins(printed: Printed) -> None:
    for sheet, words in zip(printed.reader.pages, printed.words, strict=True):
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
def test_no_page_is_nearly_empty(printed: Printed) -> None:
    *pages, last = printed.words
    assert [len(page) for page in pages if len(page) < LEAST_WORDS] == []
    assert len(last) >= 15


@pytest.mark.parametrize(
    "printed", [(demo.stem, "player") for demo in DEMOS], indirect=True, ids=str
)
def test_the_notice_at_the_end_stands_with_the_glossary(printed: Printed) -> None:
    (page,) = (text for text in printed.texts if "not an appraisal of value" in text)
    assert "The words used here" in page
    assert "those come first" in page


@EVERY
def test_no_line_lies_upon_another(printed: Printed) -> None:
    """Words that begin at one place in a line, one over the other, cannot be read."""
    for words in printed.words:
        for one, other in itertools.pairwise(sorted(words, key=lambda w: (round(w.top), w.left))):
            same_line = abs(one.top - other.top) < 1
            assert not (same_line and other.left < one.right - 1 and one.left < other.right - 1), (
                one,
                other,
            )


@EVERY
def test_no_heading_ends_a_page(printed: Printed) -> None:
    titles = {str(one.title) for one in _flat(printed.reader.outline)}
    for text in printed.texts[:-1]:
        above_the_foot = [line for line in text.splitlines() if line and not _FOOT.search(line)]
        assert above_the_foot[-1].strip() not in titles


def _flat(outline: Any) -> list[Any]:
    """Return the bookmarks of all levels in their order."""
    if not isinstance(outline, list):
        return [outline]
    return [one for entry in outline for one in _flat(entry)]


@EVERY
def test_it_is_tagged_titled_bookmarked_and_numbered(printed: Printed) -> None:
    reader = printed.reader
    root: Any = reader.root_object
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert str(reader.metadata.title).startswith("Inspection ")
    places = [reader.get_destination_page_number(one) or 0 for one in _flat(reader.outline)]
    assert len(places) >= 3
    assert places == sorted(places)
    for number, text in enumerate(printed.texts, start=1):
        assert f"{number} / {len(reader.pages)}" in text


@EVERY
def test_its_headings_step_down_one_by_one(printed: Printed) -> None:
    levels = [int(tag[2:]) for tag in tags(printed.pdf) if re.fullmatch(r"/H\d", tag)]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


@EVERY
def test_every_font_is_within(printed: Printed) -> None:
    resources: list[Any] = [page["/Resources"] for page in printed.reader.pages]
    fonts = [
        font.get_object()
        for one in resources
        for font in one.get_object().get("/Font", {}).values()
    ]
    assert fonts
    for font in fonts:
        (described,) = font["/DescendantFonts"]
        kinds = set(described.get_object()["/FontDescriptor"].get_object())
        assert {"/FontFile2", "/FontFile3"} & kinds


CHAPTERS = {
    "player": [
        "May it be strung", "What is wrong, or may be", "What can be done about it",
        "How to keep it",
    ],
    "bench": [
        "May it be strung", "The instrument and this visit", "Grades part by part", "Findings",
        "Probable causes", "Which faults together", "Safety first", "Recommended work", "Sources",
        "About this report",
    ],
}  # fmt: skip


@pytest.mark.parametrize(
    ("printed", "copy"),
    [((demo.stem, copy), copy) for demo in DEMOS for copy in COPIES],
    indirect=["printed"],
    ids=str,
)
def test_it_is_read_in_the_order_of_its_pages(printed: Printed, copy: Copy) -> None:
    lines = [line.strip() for text in printed.texts for line in text.splitlines()]
    places = [
        next(at for at, line in enumerate(lines) if line.startswith(chapter))
        for chapter in CHAPTERS[copy]
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("printed", [("150 readings", "bench")], indirect=True, ids=str)
def test_the_head_of_a_long_table_is_on_each_of_its_pages(printed: Printed) -> None:
    within = [text for text in printed.texts if text.count("of a long day") > 3]
    assert len(within) > 4
    for text in within:
        assert re.search(r"Check\s*Reading\s*Normal\s*Means", text)


@pytest.mark.parametrize("printed", [("a note of 2,000 words", "bench")], indirect=True, ids=str)
def test_a_long_note_is_whole(printed: Printed) -> None:
    text = " ".join(" ".join(printed.texts).split())
    shown = [number for number in range(250) if f"at the back, {number} and more." in text]
    assert len(shown) > 240  # one at each end of a page is parted by the foot
