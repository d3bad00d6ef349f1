"""Typed text stays text: no control characters, and nothing that a Markdown reader would act on."""

from __future__ import annotations

import re
import unicodedata
from html.parser import HTMLParser

import markdown
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from tailblock.report.plain import markdown_quote, markdown_text, printable

# What somebody might type into a note.
HOSTILE = [
    "<script>alert(1)</script>",
    "[here](javascript:alert(1))",
    "![x](http://e.example/x.png)",
    "[ref]: http://e.example",
    "<http://e.example>",
    "http://e.example www.e.example a@e.example",
    "**bold** __bold__ *it* _it_ ~~gone~~ `code`",
    "# heading",
    "#heading",
    "- item",
    "+ item",
    "* item",
    "1. item",
    "1) item",
    "> quote",
    "---",
    "===",
    "| a | b |",
    "&lt;b&gt; &amp; &copy;",
    "<!-- comment -->",
    "\\*not escaped\\*",
    "!!! note",
    ": definition",
    "{: .class }",
    "[^1] ^up^ ==mark== $x$",
    "-0.3 mm and 1.5 mm",
    "```\ncode\n```",
    "    indented",
    "a  \nb",
]


class _Text(HTMLParser):
    """The characters and the tags of some HTML."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.text = ""

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002
        self.tags.add(tag)

    def handle_data(self, data: str) -> None:
        self.text += data

    def handle_comment(self, data: str) -> None:  # noqa: ARG002
        self.tags.add("comment")


def _read(html: str) -> _Text:
    parsed = _Text()
    parsed.feed(html)
    parsed.close()
    return parsed


def _shown(text: str) -> str:
    return " ".join(printable(text).split())


typed = st.one_of(
    st.text(max_size=60), st.text(alphabet="<>&[]()*_`#-+=!|~^:/\\ \n1.ahtpw@$", max_size=40)
)


@pytest.mark.parametrize("text", HOSTILE)
def test_two_readers_of_markdown_show_the_characters_and_nothing_else(text: str) -> None:
    for html in (
        markdown.markdown(markdown_text(text), extensions=["extra", "admonition", "sane_lists"]),
        MarkdownIt("commonmark").enable(["table", "strikethrough"]).render(markdown_text(text)),
    ):
        parsed = _read(html)
        assert parsed.tags <= {"p"}
        assert parsed.text.strip() == _shown(text)


@given(typed)
@example("0.")
@example("#0")
def test_no_text_is_anything_but_text_to_a_reader_of_markdown(text: str) -> None:
    parsed = _read(MarkdownIt("commonmark").enable(["table"]).render(markdown_text(text)))
    assert parsed.tags <= {"p"}
    assert parsed.text.strip() == _shown(text)


@given(typed)
def test_no_text_is_anything_but_text_inside_a_list(text: str) -> None:
    parsed = _read(MarkdownIt("commonmark").render(f"- {markdown_text(text)}\n- end"))
    assert parsed.tags <= {"p", "ul", "li"}


@given(typed)
def test_a_cell_of_a_table_stays_one_cell(text: str) -> None:
    table = f"| a | b |\n| --- | --- |\n| {markdown_text(text)} | end |"
    html = MarkdownIt("commonmark").enable(["table"]).render(table)
    assert len(re.findall("<td>", html)) == 2


@given(st.text())
def test_printed_text_has_no_control_characters(text: str) -> None:
    assert not {
        sign
        for sign in printable(text)
        if unicodedata.category(sign) == "Cc" and sign not in "\t\n"
    }


@given(st.text(alphabet=st.characters(exclude_categories=["C"])))
def test_ordinary_text_is_left_as_it_is(text: str) -> None:
    assert printable(text) == text


def test_text_to_the_right_and_of_the_east_is_left_as_it_is() -> None:
    for name in ("שלום עולם", "مؤلف الجيتار", "古い小さなギター", "Ünïcödé 🎸"):
        assert printable(name) == name
        assert _read(markdown.markdown(markdown_text(name))).text == name


def test_a_quote_is_the_lines_without_empty_ones() -> None:
    assert markdown_quote(" one \r\n\r\n\ttwo\n") == "> one\n\n> two"
