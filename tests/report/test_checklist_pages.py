"""Pages of a checklist: every entry is on one, every link leads somewhere, nothing is left out."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import markdown
import pytest

from demos import shipped
from tailblock.knowledge.levels import levels_of
from tailblock.knowledge.loader import load
from tailblock.report.checklist_pages import pages

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

LINK = re.compile(r"(?<!!)\[(?:\\.|[^\]\\])*\]\(([^)]*)\)")
ANCHOR = re.compile(r'<a id="([^"]*)"></a>')


@pytest.fixture(scope="module")
def flat_top() -> Checklist:
    return shipped("flat-top")


@pytest.fixture(scope="module")
def written(flat_top: Checklist) -> Mapping[str, str]:
    return pages(flat_top)


def test_every_entry_has_one_place(flat_top: Checklist, written: Mapping[str, str]) -> None:
    places = [anchor for text in written.values() for anchor in ANCHOR.findall(text)]
    sections = {
        "fault": flat_top.faults, "symptom": flat_top.symptoms, "check": flat_top.checks,
        "remedy": flat_top.remedies, "caution": flat_top.cautions, "source": flat_top.sources,
    }  # fmt: skip
    expected = [f"{kind}-{id_}" for kind, entries in sections.items() for id_ in entries]
    assert sorted(places) == sorted(expected)


def test_every_link_and_picture_leads_somewhere(written: Mapping[str, str]) -> None:
    anchors = {name: set(ANCHOR.findall(text)) for name, text in written.items()}
    links = {link for name, text in written.items() if name.endswith(".md")
             for link in LINK.findall(text)}  # fmt: skip
    assert len(links) > 500
    for link in links:
        page, _, anchor = link.partition("#")
        assert page in written, link
        assert not anchor or anchor in anchors[page], link
    for text in written.values():
        for picture in re.findall(r"!\[[^\]]*\]\(([^)]*)\)", text):
            assert written[picture].startswith("<svg ")


def test_a_reader_of_markdown_sees_every_level_as_a_row(
    flat_top: Checklist, written: Mapping[str, str]
) -> None:
    for part in flat_top.parts:
        html = markdown.markdown(written[f"part-{part}.md"], extensions=["tables"])
        own = [check for check in flat_top.checks.values() if check.part == part]
        faults = [fault for fault in flat_top.faults.values() if fault.part == part]
        remedies = [remedy for remedy in flat_top.remedies.values() if remedy.part == part]
        tables = len(own) + len(faults) + len(remedies)
        assert html.count("<table>") == tables
        levels = sum(len(levels_of(check).ids) for check in own)
        assert html.count("<tr>") == tables + len(faults) + len(remedies) + levels


EVERY = "tests/examples/good/every-form.yaml"


@pytest.fixture
def every_form(checklist: Callable[..., Checklist], request: pytest.FixtureRequest) -> Checklist:
    text = (request.config.rootpath / EVERY).read_text(encoding="utf-8")
    return checklist(text, "every-form")


def test_what_an_entry_says_stands_on_its_page(every_form: Checklist) -> None:
    written = pages(every_form)
    whole = "\n".join(written.values())
    for fault in every_form.faults.values():
        for text in (fault.name, fault.plain, fault.left_alone, fault.no_remedy):
            assert not text or shown(text) in whole
    for check in every_form.checks.values():
        for text in (check.title, check.ask, check.how, check.trap, check.look_alike):
            assert not text or shown(text) in whole
    for remedy in every_form.remedies.values():
        for text in (remedy.name, remedy.plain, remedy.how):
            assert not text or shown(text) in whole
    for caution in every_form.cautions.values():
        for text in (caution.title, caution.text, *caution.controls):
            assert shown(text) in whole


def shown(text: str) -> str:
    """Return a text of letters as a page has it: its signs are none that Markdown knows."""
    assert not set(text) & set("*_|`[]<>")
    return " ".join(text.split())


def test_text_that_looks_like_markdown_stays_text(checklist_folder: Callable[..., Path]) -> None:
    folder = checklist_folder(
        "tailblock: 1\nid: odd\ntitle: '*Odd* <b>'\nversion: 1.0.0\nparts: [{id: a, name: A}]\n"
        "faults: [{id: f, part: a, name: 'F | *g* [x](y) <i>', plain: P, alone: seldom, "
        "harm: none, pace: stable, under_tension: fine}]\n"
        "checks: [{id: c, part: a, title: C, ask: A, how: H, minutes: 1, "
        "choices: [{level: n, text: 'a | b'}, {level: y, text: Y}], "
        "shows: [{fault: f, at_least: {y: often}}]}]\n",
        "odd",
    )
    odd = load(folder).checklist
    assert odd is not None
    html = markdown.markdown(pages(odd)["part-a.md"], extensions=["tables"])
    seen = "".join(ET.fromstring(f"<r>{html}</r>").itertext())  # noqa: S314  our own text
    assert "F | *g* [x](y) <i>" in seen
    assert "a | b" in seen
