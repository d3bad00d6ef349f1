"""Hostile text in every field, and more of it than anybody writes: all is text, soon enough."""

from __future__ import annotations

import json
import re
import time
from dataclasses import fields, is_dataclass, replace
from itertools import count
from typing import TYPE_CHECKING, Any, Literal, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from pictures import plain
from report.pages import DRAWN, Page, read, words
from report.paper import opened, text_of
from tailblock.inspection.picture import picture_of
from tailblock.report.plain import markdown_quote, printable
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf
from tailblock.report.to_typst import ALL_LONG, LONGEST, to_typst

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tailblock.report.model import Copy, Report

TYPED = (
    "<script>alert(1)</script> <img src=x onerror=alert(1)> </style></title></textarea>-->]]> "
    "[a](javascript:alert(1)) ![x](http://e.example/x.png) **b** | c | ~~d~~ {{ 7 * 7 }} {% raw %} "
    '#panic("no") #read("/etc/passwd") $x$ @ref <lab> `raw` // c /* d */ \\ "\' &lt;b&gt; '
    "\u202eback"
)
# Names of a record that choose a form, a day that is reckoned with: no person types them.
NOT_TYPED = DRAWN | {
    "gauge",
    "conventions",
    "id",
    "kind",
    "answer",
    "way",
    "day",
    "dimension",
    "figure",
    "digest",
}
# What the page for the bench says in other words, only at times, or in a test of its own.
ELSEWHERE = frozenset({"first_page", "players_copy", "photos", "returns", "asked_again"})
COPIES: list[Copy] = ["player", "bench"]


def _may_be_typed(hint: Any) -> bool:
    """Return whether a field holds texts, and not one of a few words that we chose."""
    if get_origin(hint) is Literal:
        return False
    within = get_args(hint)
    return any(map(_may_be_typed, within)) if within else hint is str or is_dataclass(hint)


def _spoilt(value: Any, numbers: Iterator[int]) -> Any:
    """Return a value with hostile text in place of every text, each with a number of its own."""
    if isinstance(value, str):
        return f"{TYPED} no. {next(numbers)}" if value else value
    if isinstance(value, tuple):
        return tuple(_spoilt(inner, numbers) for inner in value)
    if is_dataclass(value) and not isinstance(value, type):
        hints = get_type_hints(type(value))
        kept = {
            f.name: _spoilt(getattr(value, f.name), numbers)
            for f in fields(value)
            if f.name not in NOT_TYPED and _may_be_typed(hints[f.name])
        }
        return replace(value, **kept)
    return value


@pytest.fixture(scope="module")
def hostile(hot_car: Report) -> Report:
    picture = picture_of(plain())
    (photo,) = hot_car.photos
    shown = replace(photo, caption="a", digest=picture.digest, width=64, height=48)
    spoilt: Report = _spoilt(replace(hot_car, photos=(replace(shown, jpeg=picture.jpeg),)), count())
    return spoilt


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        if value.startswith(TYPED):
            yield value
    elif isinstance(value, tuple):
        for inner in value:
            yield from _texts(inner)
    elif is_dataclass(value):
        for f in fields(value):
            if f.name not in ELSEWHERE:
                yield from _texts(getattr(value, f.name))


def _markdown(text: str) -> Page:
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    return read(reader.render(text).replace("<br />", "<br>"))


def _missing(report: Report, shown: str) -> list[str]:
    """Return the numbers that a page for the bench does not show."""
    numbered = [re.sub(r".* no\.", "back no.", words(text)) for text in _texts(report)]
    assert len(numbered) > 400
    return [number for number in numbered if not re.search(rf"{re.escape(number)}\b", shown)]


@pytest.mark.parametrize("copy", COPIES)
def test_in_a_page_it_is_text(hostile: Report, copy: Copy) -> None:
    page = read(to_html(hostile, copy=copy))
    assert not page.named("script", "a", "textarea", "iframe")
    assert not [tag for tag in page.named("b") if "*" in tag.text]
    assert [tag.attributes["src"][:10] for tag in page.named("img")] == ["data:image"]
    assert not [name for tag in page.tags for name in tag.attributes if name.startswith("on")]
    assert len(page.named("style")) == 1
    assert len(page.named("title")) == 1 + len(page.named("svg"))
    assert words(TYPED) in words(page.text)
    if copy == "bench":
        assert _missing(hostile, words(page.text)) == []


@pytest.mark.parametrize("copy", COPIES)
def test_in_markdown_it_is_text(hostile: Report, copy: Copy) -> None:
    page = _markdown(to_markdown(hostile, copy=copy))
    assert not page.named("script", "img", "a", "code", "b")
    assert words(TYPED) in words(page.text)
    assert {tag.text for tag in page.named("s")} <= {""}
    # a heading is made of typed text and what belongs to it, or of no typed text at all
    assert all(tag.text.count("alert(1)") != 1 for tag in page.named("h1", "h2", "h3"))


@pytest.mark.parametrize("copy", COPIES)
def test_on_paper_it_is_text(hostile: Report, copy: Copy) -> None:
    pdf = to_pdf(hostile, copy=copy)
    squeezed = re.sub(r"\s", "", words(text_of(pdf)))
    for sign in ('#panic("no")', '#read("/etc/passwd")', "{{7*7}}", "<script>alert(1)</script>"):
        assert sign in squeezed
    reader = opened(pdf)
    assert not [one for page in reader.pages for one in page.get("/Annots", [])]
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(reader.root_object)
    assert not reader.root_object.get("/Names", {}).get("/JavaScript")


@pytest.mark.parametrize("copy", COPIES)
def test_in_json_it_is_text(hostile: Report, copy: Copy) -> None:
    told = json.loads(to_json(hostile, copy=copy))
    assert told["heading"]["instrument"].startswith(TYPED)


NOTE = (
    "<b>loud</b> *old* [x](y) # $x$ {{ 7 }} & | the bridge lifts\n"
    "- at the back \u202e and \u05e9\u05dc\u05d5\u05dd " + "a" * 60 + "\n\n"
)
SOON = 60.0  # seconds, on a busy machine


def _noted(report: Report, note: str) -> Report:
    part, *rest = report.findings
    first = replace(part.findings[0], note=note)
    return replace(report, findings=(replace(part, findings=(first, *part.findings[1:])), *rest))


@pytest.mark.parametrize(
    ("render", "shown"),
    [
        (to_html, lambda made: made.count("&lt;b&gt;loud&lt;/b&gt;")),
        (to_markdown, lambda made: made.count("&lt;b&gt;loud&lt;/b&gt;")),
        (to_json, lambda made: made.count("<b>loud</b>")),
    ],
    ids=["html", "markdown", "json"],
)
def test_ten_million_characters_are_shown_whole_and_soon(
    hot_car: Report, render: Callable[[Report], str], shown: Callable[[str], int]
) -> None:
    times = 10_000_000 // len(NOTE)
    report = _noted(hot_car, NOTE * times)
    begun = time.monotonic()
    made = render(report)
    assert time.monotonic() - begun < SOON
    assert shown(made) == times


def test_paper_says_where_the_whole_of_a_long_text_stands(hot_car: Report) -> None:
    note = (NOTE * (10_000_000 // len(NOTE) + 1))[:10_000_000]
    begun = time.monotonic()
    pdf = to_pdf(_noted(hot_car, note))
    assert time.monotonic() - begun < SOON
    text = " ".join(text_of(pdf).split())
    assert (
        "(Cut here. The whole of it, 10,000,000 characters, stands in the report as HTML.)" in text
    )
    assert text.count("the bridge lifts") >= LONGEST // len(NOTE)
    assert "About this report" in text  # what follows it is there
    assert len(opened(pdf).pages) < 60


def test_a_note_of_two_thousand_words_is_printed_whole(hot_car: Report) -> None:
    note = " ".join(f"word-{number}" for number in range(2000))
    text = text_of(to_pdf(_noted(hot_car, note)))
    assert set(re.findall(r"word-\s*(\d+)", text)) == {str(number) for number in range(2000)}


def test_many_long_notes_share_the_room_of_a_report_on_paper(hot_car: Report) -> None:
    part, *rest = hot_car.findings
    many = tuple(replace(part.findings[0], note="a" * 15_000) for _ in range(400))
    report = replace(hot_car, findings=(replace(part, findings=many), *rest))
    assert len(to_typst(report).data) < 2 * ALL_LONG + 400 * 4_000


# Unicode Standard Annex 9: embeddings and isolates end with their paragraph; X6a, X7
@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("plain", "plain"),
        ("\u202eback", "\u202eback\u202c"),
        ("\u202eback\u202c on", "\u202eback\u202c on"),
        ("\u2067one \u202atwo", "\u2067one \u202atwo\u202c\u2069"),
        ("\u2067one \u202atwo\u2069 on", "\u2067one \u202atwo\u2069 on"),
        ("\u2069out\u202c", "\ufffdout\ufffd"),
        ("\u2067in\u202c\u2069", "\u2067in\ufffd\u2069"),
        ("\u202eone\ntwo", "\u202eone\u202c\ntwo"),
    ],
)
def test_what_reorders_ends_with_its_line(typed: str, shown: str) -> None:
    assert printable(typed) == shown
    assert printable(shown) == shown


@given(st.text("ab\n\u202a\u202e\u202c\u2066\u2067\u2069", max_size=30))
def test_nothing_is_left_open_and_nothing_foreign_is_closed(typed: str) -> None:
    shown = printable(typed)
    assert printable(shown) == shown
    for line in shown.split("\n"):
        assert sum(line.count(sign) for sign in "\u2066\u2067\u2068") == line.count("\u2069")
        ends = line.count("\u202c")
        assert ends <= sum(line.count(sign) for sign in "\u202a\u202b\u202d\u202e")


@given(st.text(max_size=200))
def test_a_quote_holds_every_line_as_text(typed: str) -> None:
    page = _markdown(markdown_quote(typed))
    assert {tag.name for tag in page.tags} <= {"blockquote", "p"}
    assert words(page.text) == words(printable(typed))
