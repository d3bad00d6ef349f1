"""The report on paper: its structure, its order, and typed text as text."""

from __future__ import annotations

import json
import re
from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

import pytest
import typst
from hypothesis import given, settings
from hypothesis import strategies as st

from report.pages import DRAWN, texts_in, words
from report.paper import alternatives, catalog, opened, tags, text_of
from report.visits import HEAD, HOT_CAR, Reported
from tailblock.report.pictures.evidence import evidence_picture
from tailblock.report.pictures.gauge import gauge_picture, key_picture
from tailblock.report.pictures.hours import hours_picture
from tailblock.report.pictures.instrument.draw import instrument
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf
from tailblock.report.to_typst import to_typst

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report

HOSTILE = (
    '#panic("no") #read("/etc/passwd") $x$ @ref <lab> `raw` // comment /* more */ \\ *b* _i_ '
    "<script>alert(1)</script> [here](javascript:alert(1)) ![x](http://e.example/x.png) {{ 7 * 7 }}"
)
# Fields that say which, not what; a gauge is a picture.
NOT_SHOWN = (
    frozenset({"id", "kind", "answer", "dimension", "figure", "unit", "gauge", "conventions"})
    | DRAWN
)
LETTER = (215.9, 279.4)
COPIES: list[Copy] = ["player", "bench"]


@pytest.fixture(scope="module", params=COPIES)
def copy(request: pytest.FixtureRequest) -> Copy:
    found: Copy = request.param
    return found


@pytest.fixture(scope="module")
def made(hot_car: Report, copy: Copy) -> bytes:
    return to_pdf(hot_car, copy=copy)


@pytest.fixture(scope="module")
def hostile(reported: Reported) -> Report:
    typed = json.dumps(HOSTILE, ensure_ascii=False)
    head = HEAD.replace("Small dark guitar with a pin bridge", typed).replace("Ada Example", typed)
    head = head.replace("scale_length", f"note: {typed}\n  scale_length")
    visit = HOT_CAR.replace("R. Bench", typed).replace("could not see it", typed)
    return reported(visit.replace("came in a shut case, still warm", typed), head)


def _squeezed(text: str) -> str:
    """Return a text without spaces: a page may end a line anywhere, within a long word too."""
    return re.sub(r"[\s\u00ad\u200e\u200f\u202a-\u202e]+|(?<=\w)-\n", "", words(text))


def _without_feet(text: str) -> str:
    """Leave out the last line of each page: a sentence may go on overleaf."""
    return "\n".join(page.rstrip().rpartition("\n")[0] for page in text.split("\f"))


def test_it_says_what_it_is_and_is_dated_by_the_visit(made: bytes) -> None:
    about = opened(made).metadata
    assert about is not None
    assert about.title == "Inspection 2031-014: Small dark guitar with a pin bridge"
    assert about.author == "R. Bench"
    assert about.creation_date is not None
    assert about.creation_date.date().isoformat() == "2031-03-02"


def test_it_is_tagged_and_says_its_language(made: bytes) -> None:
    root = catalog(made)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert {"/H1", "/H2", "/P", "/L", "/LI"} <= set(tags(made))


def test_it_claims_to_be_accessible(made: bytes) -> None:
    metadata = catalog(made)["/Metadata"].get_data().decode()
    assert re.search(r"pdfuaid:part(>|=.)1", metadata)


def test_the_heads_of_tables_are_heads(hot_car: Report) -> None:
    found = tags(to_pdf(hot_car))
    assert found.count("/THead") >= 3
    assert "/TH" in found
    assert (
        found.count("/Figure") == 8
    )  # with the instrument, the key, four gauges, the evidence, the hours


def test_every_drawing_says_itself_in_words(hot_car: Report) -> None:
    said = alternatives(to_pdf(hot_car))
    evidence = evidence_picture(hot_car.causes)
    assert hot_car.hours is not None
    assert evidence is not None
    assert hot_car.portrait is not None
    pictures = [
        instrument(hot_car.portrait),
        key_picture("bench"),
        *(
            gauge_picture(f.check, f.gauge)
            for part in hot_car.findings
            for f in part.findings
            if f.gauge
        ),
        evidence,
        hours_picture(hot_car.hours),
    ]
    assert said == [f"{picture.title}. {picture.text}" for picture in pictures]


def test_the_letters_of_a_picture_are_letters(hot_car: Report) -> None:
    text = text_of(to_pdf(hot_car))
    for letters in ("speaks against it", "numbers are decibans", "to be watched"):
        assert letters in text


def test_its_chapters_are_bookmarks(made: bytes, copy: Copy) -> None:
    titles = [str(one.title) for one in opened(made).outline if not isinstance(one, list)]
    chapters = {
        "player": ["What is wrong, or may be", "What can be done about it", "The words used here"],
        "bench": ["Findings", "Probable causes", "Safety first", "Recommended work, in stages"],
    }[copy]
    assert titles[0] == "Small dark guitar with a pin bridge"
    assert [title for title in titles if title in chapters] == chapters


def _fonts(pdf: bytes) -> list[Any]:
    resources: list[Any] = [page["/Resources"] for page in opened(pdf).pages]
    return [font.get_object() for one in resources for font in one["/Font"].values()]


def test_its_fonts_are_in_it(made: bytes) -> None:
    assert _fonts(made)
    for font in _fonts(made):
        (descendant,) = font["/DescendantFonts"]
        described = descendant.get_object()["/FontDescriptor"]
        assert {"/FontFile2", "/FontFile3"} & set(described)


@pytest.mark.parametrize("paper", [(210.0, 297.0), LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("state", ["hot_car", "sound", "unread"])
def test_the_first_page_is_one_page_on_any_paper(
    request: pytest.FixtureRequest, state: str, paper: tuple[float, float], copy: Copy
) -> None:
    report: Report = request.getfixturevalue(state)
    pdf = opened(to_pdf(report, copy=copy, paper=paper))
    first, second = (page.extract_text() for page in pdf.pages[:2])
    assert "not an appraisal" in first
    leads = "Where it is" if report.portrait else "What is wrong, or may be"
    follows = leads if copy == "player" else "The instrument and this visit"
    assert second.lstrip().startswith(follows)
    width, height = (float(side) / 72 * 25.4 for side in pdf.pages[0].mediabox[2:])
    assert (width, height) == pytest.approx(paper, abs=0.1)


def test_every_page_has_its_number(made: bytes) -> None:
    pages = opened(made).pages
    for number, page in enumerate(pages, start=1):
        assert f"{number} / {len(pages)}" in page.extract_text()


@pytest.mark.parametrize("state", ["hot_car", "sound", "unread"])
def test_the_bench_copy_says_everything_that_the_report_says(
    request: pytest.FixtureRequest, state: str
) -> None:
    report: Report = request.getfixturevalue(state)
    told = asdict(report)
    del told["players_copy"]
    shown = _squeezed(_without_feet(text_of(to_pdf(report))))
    missing = [
        text for text in texts_in(told, NOT_SHOWN) if _squeezed(text).removesuffix(".") not in shown
    ]
    assert missing == []


def test_the_players_copy_says_all_that_is_in_it(hot_car: Report) -> None:
    shown = _squeezed(text_of(to_pdf(hot_car, copy="player")))
    told = [
        _squeezed(text).removesuffix(".")
        for text in texts_in(asdict(hot_car.players_copy), NOT_SHOWN)
    ]
    assert [text for text in told if text not in shown] == []


def test_it_is_read_in_the_order_of_its_pages(hot_car: Report) -> None:
    text = text_of(to_pdf(hot_car))
    chapters = (
        "May it be strung", "What is wrong", "What must be done first", "The instrument and this",
        "Grades part by part", "Findings", "Probable causes", "Safety first", "What to look at",
        "Recommended work", "About this report",
    )  # fmt: skip
    places = [text.find(chapter) for chapter in chapters]
    assert -1 not in places
    assert places == sorted(places)


def test_typed_text_is_text_on_paper(hostile: Report) -> None:
    text = _squeezed(text_of(to_pdf(hostile)))
    assert text.count(_squeezed(HOSTILE)) >= 3
    assert not [one for page in opened(to_pdf(hostile)).pages for one in page.get("/Annots", [])]


def test_the_program_of_the_typesetter_is_the_same_for_every_report(
    hostile: Report, sound: Report
) -> None:
    assert to_typst(hostile).program == to_typst(sound).program
    assert HOSTILE in json.loads(to_typst(hostile).data)["title"]


@pytest.mark.parametrize(
    "typed",
    [
        "\x00\x07\x1b[31m bell \x7f",
        "a" * 400,
        "\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd",
        "\u53e4\u3044\u30ae\u30bf\u30fc",
        "\U0001f3b8 \ue000 private",
        "\u202eright to left",
        "a note of many words. " * 500,
    ],
    ids=["control", "long word", "hebrew", "japanese", "no glyph", "override", "2,000 words"],
)
def test_any_name_and_note_can_be_printed(hot_car: Report, typed: str) -> None:
    heading = replace(hot_car.heading, instrument=typed, by=typed, job=typed, note=typed)
    pdf = to_pdf(replace(hot_car, heading=heading))
    assert catalog(pdf)["/MarkInfo"]["/Marked"]
    first, second = (page.extract_text() for page in opened(pdf).pages[:2])
    assert "not an appraisal" in first
    assert second.lstrip().startswith("The instrument and this visit")


@settings(max_examples=15, deadline=None)
@given(typed=st.text(max_size=120))
def test_nothing_that_can_be_typed_stops_the_printer(hot_car: Report, typed: str) -> None:
    heading = replace(hot_car.heading, instrument=typed, by=typed, note=typed)
    assert to_pdf(replace(hot_car, heading=heading), copy="player").startswith(b"%PDF-1.7")


def test_no_font_of_the_machine_is_asked_for_what_the_compiler_can_set(
    hot_car: Report, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[bool] = []
    compiler = typst.Compiler

    def watched(program: bytes, **named: Any) -> typst.Compiler:
        asked.append(not named["ignore_system_fonts"])
        return compiler(program, **named)

    monkeypatch.setattr(typst, "Compiler", watched)
    to_pdf(hot_car, copy="player")
    assert asked == [False]
    asked.clear()
    to_pdf(replace(hot_car, heading=replace(hot_car.heading, instrument="\u53e4\u3044")))
    assert asked[:2] == [False, True]


def test_the_same_report_is_the_same_file(reported: Reported, copy: Copy) -> None:
    one, other = reported(HOT_CAR), reported(HOT_CAR)
    for render in (to_html, to_markdown, to_json, to_pdf):
        assert render(one, copy=copy) == render(other, copy=copy)


def test_a_stamp_stands_above_the_first_page_only(hot_car: Report) -> None:
    first, *others = opened(to_pdf(hot_car, copy="player", stamp="Estimate 7")).pages
    assert "Estimate 7" in first.extract_text()
    assert not any("Estimate 7" in page.extract_text() for page in others)
