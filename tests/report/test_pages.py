"""The three forms of a report: all of its content, nothing from elsewhere, typed text as text."""

from __future__ import annotations

import itertools
import json
import re
from dataclasses import asdict, replace
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from report.contrast import contrast
from report.pages import DRAWN, Page, read, texts_in, words
from report.visits import HEAD, HOT_CAR, Reported
from tailblock.report.model import Report
from tailblock.report.plain import printable
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown

HOSTILE = (
    "<script>alert(1)</script> <img src=x onerror=alert(1)> [here](javascript:alert(1)) "
    "![x](http://e.example/x.png) **bold** | pipe | {{ 7 * 7 }} &lt;b&gt; \" ' </style> --> \u202e"
)
# Fields that say which, not what; a page has another way to show them.
NOT_SHOWN = frozenset({"id", "kind", "answer", "zones", "conventions"}) | DRAWN
FOR_THE_PLAYER = frozenset({"players_copy"})


@pytest.fixture(params=["hot_car", "sound", "unread"])
def any_state(request: pytest.FixtureRequest) -> Report:
    report = request.getfixturevalue(request.param)
    assert isinstance(report, Report)
    return report


@pytest.fixture(scope="session")
def hostile(reported: Reported) -> Report:
    typed = json.dumps(HOSTILE, ensure_ascii=False)
    head = (
        HEAD.replace("Small dark guitar with a pin bridge", typed)
        .replace("Ada Example", typed)
        .replace('"2031-014"', typed)
        .replace("scale_length", f"note: {typed}\n  scale_length")
    )
    accepted = f"    accepted: [{{fault: bridge-lifting, by: {typed}, why: {typed}}}]\n"
    visit = (
        HOT_CAR.replace("R. Bench", typed)
        .replace("came in a shut case, still warm", typed)
        .replace("could not see it", typed)
        .replace("    readings:", f"{accepted}    readings:")
    )
    return reported(visit, head)


def _missing(report: Report, text: str, *, but: frozenset[str] = frozenset()) -> list[str]:
    shown = words(text)
    return [
        said
        for said in texts_in(asdict(report), NOT_SHOWN | FOR_THE_PLAYER | but)
        if words(said).removesuffix(".") not in shown
    ]


def _markdown_read(report: Report) -> Page:
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    return read(reader.render(to_markdown(report)).replace("<br />", "<br>"))


def test_the_page_says_everything_that_the_report_says(any_state: Report) -> None:
    assert _missing(any_state, read(to_html(any_state)).text) == []


def test_the_markdown_says_everything_but_the_drawings(any_state: Report) -> None:
    missing = _missing(any_state, _markdown_read(any_state).text, but=frozenset({"gauge"}))
    assert missing == []


def test_json_is_the_content_with_the_version_of_its_form(any_state: Report) -> None:
    data = json.loads(to_json(any_state))
    assert data.pop("tailblock") == 1
    told = asdict(any_state)
    for photo in told["photos"]:
        del photo["jpeg"]
    assert data == json.loads(json.dumps(told))
    assert list(data)[:3] == ["heading", "first_page", "players_copy"]


def test_the_page_needs_nothing_and_forbids_itself_to_load_anything(any_state: Report) -> None:
    page = read(to_html(any_state))
    policy = next(t for t in page.named("meta") if "http-equiv" in t.attributes)
    assert policy.attributes["http-equiv"] == "Content-Security-Policy"
    assert policy.attributes["content"] == (
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    assert not page.named("script", "link", "img", "iframe", "object", "a", "form", "base")
    assert "url(" not in to_html(any_state)
    assert "@import" not in to_html(any_state)
    assert "http://" not in to_html(any_state)
    assert "https://" not in to_html(any_state)


def test_headings_are_in_order_and_none_is_empty(any_state: Report) -> None:
    headings = read(to_html(any_state)).named("h1", "h2", "h3", "h4")
    levels = [int(tag.name[1]) for tag in headings]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))
    assert all(tag.text.strip() for tag in headings)


def test_the_page_says_its_language_and_closes_what_it_opens(any_state: Report) -> None:
    page = read(to_html(any_state))
    assert page.named("html")[0].attributes["lang"] == "en"
    assert page.unclosed == []
    ids = [tag.attributes["id"] for tag in page.tags if "id" in tag.attributes]
    assert len(ids) == len(set(ids))


def test_tables_have_a_name_and_headers_with_their_scope(any_state: Report) -> None:
    page = read(to_html(any_state))
    ids = {tag.attributes.get("id") for tag in page.named("h2", "h3")}
    assert page.named("table")
    for table in page.named("table"):
        assert table.attributes["aria-labelledby"] in ids
    assert all(header.attributes["scope"] for header in page.named("th"))


def test_every_drawing_says_itself_in_words(hot_car: Report) -> None:
    page = read(to_html(hot_car))
    drawings = page.named("svg")
    kinds = [drawing.attributes["class"].removeprefix("picture ") for drawing in drawings]
    assert kinds == ["instrument", "key", *["gauge"] * 4, "evidence", "hours"]
    ids = {tag.attributes["id"]: tag.text for tag in page.tags if "id" in tag.attributes}
    words = [
        [ids[name] for name in drawing.attributes["aria-labelledby"].split()]
        for drawing in drawings
    ]
    gauges = [
        [f.check, f.gauge.text] for part in hot_car.findings for f in part.findings if f.gauge
    ]
    assert words[2:-2] == gauges
    assert hot_car.hours is not None
    assert words[-1] == ["Hours of many such jobs", hot_car.hours.picture]
    assert all(drawing.attributes["role"] == "img" for drawing in drawings)


def test_a_silent_reading_is_struck_through_in_both_forms(reported: Reported) -> None:
    report = reported(HOT_CAR.replace("value: at-pitch}", "value: below}"))
    page = read(to_html(report))
    (struck,) = page.named("s")
    assert "9/64 in" in struck.text
    assert "does not count, because" in page.text
    (struck,) = _markdown_read(report).named("s")
    assert "9/64 in" in struck.text


def test_typed_text_is_text_on_the_page(hostile: Report) -> None:
    page = read(to_html(hostile))
    assert _missing(hostile, page.text) == []
    assert not page.named("script", "img", "a")
    assert not [name for tag in page.tags for name in tag.attributes if name.startswith("on")]
    assert len(page.named("style")) == 1


def test_typed_text_is_text_in_markdown(hostile: Report) -> None:
    page = _markdown_read(hostile)
    assert not page.named("script", "img", "a", "code")
    assert "<script>alert(1)</script>" in page.text
    assert "![x](http://e.example/x.png) **bold** | pipe |" in page.text


def test_typed_text_is_kept_apart_from_the_direction_of_the_page(hostile: Report) -> None:
    page = read(to_html(hostile))
    holding = [tag for tag in page.tags if "<script>" in tag.text]
    innermost = [tag for tag in holding if tag.name in {"bdi", "dd", "p"}]
    assert len(innermost) > 8
    for tag in innermost:
        isolated = tag.name == "bdi" or tag.attributes.get("dir") == "auto"
        assert isolated or any(f"{other.text}" in tag.text for other in page.named("bdi"))


@given(note=st.text(max_size=200))
def test_any_note_is_shown_as_it_was_typed(hot_car: Report, note: str) -> None:
    part, *rest = hot_car.findings
    noted = replace(part, findings=(replace(part.findings[0], note=note), *part.findings[1:]))
    page = read(to_html(replace(hot_car, findings=(noted, *rest))))
    assert words(printable(note)) in words(page.text)
    assert not page.named("script", "img", "a")


@pytest.mark.parametrize(
    "name",
    [
        "\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd",
        "\u0645\u0624\u0644\u0641 \u0627\u0644\u062c\u064a\u062a\u0627\u0631",
        "\u53e4\u3044\u5c0f\u3055\u306a\u30ae\u30bf\u30fc",
        "Extraordinarily" * 20,
        "word " * 2000,
    ],
    ids=["hebrew", "arabic", "japanese", "long word", "2,000 words"],
)
def test_names_and_notes_of_any_script_and_length_are_whole(hot_car: Report, name: str) -> None:
    head = replace(hot_car.heading, instrument=name, note=name)
    report = replace(hot_car, heading=head)
    assert words(name) in words(read(to_html(report)).text)
    assert words(name) in words(_markdown_read(report).text)


def test_control_characters_are_shown_and_not_sent(hot_car: Report) -> None:
    head = replace(hot_car.heading, instrument="a\x00b\x1b[31mc\x7f")
    for text in (
        to_html(replace(hot_car, heading=head)),
        to_markdown(replace(hot_car, heading=head)),
    ):
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", text)
        assert "a\N{REPLACEMENT CHARACTER}b\N{REPLACEMENT CHARACTER}" in text


# on white; computed to four places after the definition in WCAG 2
@pytest.mark.parametrize(
    ("colour", "ratio"),
    [("#000000", 21.0), ("#767676", 4.5422), ("#777777", 4.4781), ("#0000ff", 8.5925)],
)
def test_the_ruler_for_contrast_is_right(colour: str, ratio: float) -> None:
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=5e-5)


def _colours() -> dict[str, str]:
    sheet = files("tailblock.report").joinpath("templates/report.css").read_text("utf-8")
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", sheet))


# WCAG 2 SC 1.4.3 (AA): 4.5 to 1 for text; SC 1.4.11: 3 to 1 for drawings and frames
@pytest.mark.parametrize(
    ("text", "ground"),
    [
        (text, ground)
        for text in ("ink", "soft", "deep", "warn")
        for ground in ("paper", "wash", "warn-wash")
    ],
)
def test_text_stands_out_from_its_ground(text: str, ground: str) -> None:
    colours = {"paper": "#ffffff", **_colours()}
    assert contrast(colours[text], colours[ground]) >= 4.5


def test_drawings_stand_out_from_the_paper(hot_car: Report) -> None:
    strokes = {
        tag.attributes["stroke"]
        for tag in read(to_html(hot_car)).tags
        if "stroke" in tag.attributes
    }
    for stroke in strokes - {"#ffffff"}:  # that keeps a mark clear of the lines below it
        assert contrast(stroke, "#ffffff") >= 3
