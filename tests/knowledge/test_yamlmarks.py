"""Reading YAML: texts as written, places of nodes, limits, and what is said of broken text.

The rules of plain scalars are those of YAML 1.2.2, section 10.3 (core schema), of which only `null`
is resolved; the places are counted in the text by hand.
"""

from __future__ import annotations

import json

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from tailblock.knowledge import yamlmarks
from tailblock.knowledge.yamlmarks import DEEPEST, LARGEST, MOST_ALIASES, Marked, read_marked


@pytest.fixture(autouse=True, params=["with-libyaml", "in-python"])
def loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Read with both parsers: the one in C where it is there, and the one in Python."""
    if request.param == "in-python":
        monkeypatch.setattr(yamlmarks, "_LOADER", yaml.SafeLoader)
    else:
        assert yamlmarks._LOADER is yaml.CSafeLoader


def read(source: str | bytes) -> Marked:
    marked, problems = read_marked(source, "a.yaml")
    assert marked is not None, problems
    return marked


def refused(source: str | bytes) -> list[tuple[str, str, str]]:
    """Return place, message and mend of every problem."""
    marked, problems = read_marked(source, "a.yaml")
    assert marked is None
    return [(f"{p.line}:{p.column}", p.message, p.mend) for p in problems]


@pytest.mark.parametrize(
    "written",
    ["0012", "1.10", "0.50", "2031-03-02", "1:30", "off", "no", "on", "yes", "true", "0x1f", "1e3",
     "+12", ".inf", "7/64 in", "1 3/16\"", "NULLS"],
)  # fmt: skip
def test_plain_scalars_stay_as_written(written: str) -> None:
    assert read(f"value: {written}").data == {"value": written}


@pytest.mark.parametrize("written", ["", "~", "null", "Null", "NULL"])
def test_only_what_is_left_out_is_nothing(written: str) -> None:
    assert read(f"value: {written}").data == {"value": None}


@pytest.mark.parametrize("written", ['"null"', "'~'", '""', "''"])
def test_quotes_make_a_text(written: str) -> None:
    assert read(f"value: {written}").data == {"value": written[1:-1]}


def test_blocks_and_braces_give_the_same_data() -> None:
    block = "faults:\n  - id: hump\n    causes:\n      - dry\n      - old\n"
    assert read(block).data == read("faults: [{id: hump, causes: [dry, old]}]").data


def test_a_folded_text_is_one_line() -> None:
    assert read("how: >\n  Hold it\n  up.\n").data == {"how": "Hold it up.\n"}


TEXT = """\
checks:
  - id: look
    shows: [{fault: hump, at_least: {high: often}}]
    note: Öl
  - {id: touch}
"""


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ((), (1, 1)),
        (("checks",), (2, 3)),
        (("checks", 0), (2, 5)),
        (("checks", 0, "id"), (2, 9)),
        (("checks", 0, "shows", 0, "fault"), (3, 21)),
        (("checks", 0, "shows", 0, "at_least", "high"), (3, 44)),
        (("checks", 0, "note"), (4, 11)),
        (("checks", 1, "id"), (5, 10)),
        # what is not there is at the nearest thing that is
        (("checks", 1, "note"), (5, 5)),
        (("checks", 7), (2, 3)),
        # a single value where a list is meant: its item is the value
        (("checks", 0, "note", 0), (4, 11)),
    ],
)
def test_places(path: tuple[str | int, ...], place: tuple[int, int]) -> None:
    assert read(TEXT).place_of(path) == place


def test_places_of_names() -> None:
    root = read(TEXT).root
    assert root.name_below(("checks", 0, "note"))[1:] == (4, 5)
    assert root.name_below(("checks", 0, "shows", 0, "at_least"))[1:] == (3, 27)
    assert root.name_below(("checks", 1))[1:] == (5, 5)  # an item has no name: its own place


def test_marks_know_where_a_value_ends_and_how_it_is_written() -> None:
    root = read("a: [1, 22]\nb:\n  c: d\n").root
    assert root.below(["a"]).end == (1, 11)
    assert root.below(["a", 1]).end == (1, 10)
    assert root.below(["a"]).flow
    assert not root.below(["b"]).flow


def test_an_alias_stands_for_what_it_names() -> None:
    marked = read("a: &it {x: y}\nb: *it\n")
    assert marked.data == {"a": {"x": "y"}, "b": {"x": "y"}}
    assert marked.place_of(["b", "x"]) == (1, 12)


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    marked = read(b"\xef\xbb\xbfa: b\r\nc: d\r\n")
    assert marked.data == {"a": "b", "c": "d"}
    assert marked.place_of(["c"]) == (2, 4)


@pytest.mark.parametrize("empty", ["", "# only a comment\n", "---\n"])
def test_an_empty_file_holds_nothing(empty: str) -> None:
    assert read(empty).data is None


QUOTE = "put the whole text in quotes"
QUOTE_OR_CLOSE = f"look at this line and those before it: {QUOTE}, or close what is open"
BRACES = "a colon, a quote or a # inside a text in braces, or the closing brace is missing"
BRACKETS = "a colon, a quote or a # inside a text in brackets, or the closing bracket is missing"


@pytest.mark.parametrize(
    ("source", "place", "message", "mend"),
    [
        ("note: see: below", "1:10", "a colon inside a text", QUOTE),
        ("a: {note: see: below}", "1:14", BRACES, QUOTE_OR_CLOSE),
        ("a: {b: #24463f}\nc: d\n", "2:2", BRACES, QUOTE_OR_CLOSE),
        ("a: [b, c\n", "1:4", BRACKETS, QUOTE_OR_CLOSE),
        (
            "- {level: none, text: No gap, at any edge}",
            "1:31",
            "`at any edge` has no value: inside braces a comma begins a new field",
            "if the comma belongs to a text, put the whole text in quotes",
        ),
        ("a: b\n\tc: d", "2:1", "a tab", "use spaces to indent"),
        ("how: @once", "1:6", "a text begins with @, which has a meaning in YAML", QUOTE),
        ("how: `once`", "1:6", "a text begins with `, which has a meaning in YAML", QUOTE),
        ("how: *o!", "1:8", "a text begins with * or &, which have a meaning in YAML", QUOTE),
        (
            "how: *once",
            "1:6",
            "`*once` stands for nothing above",
            "put a text that begins with * in quotes",
        ),
        (
            "how: !once a",
            "1:6",
            "tags (`!name`) are not used here",
            "put a text that begins with ! in quotes",
        ),
        (
            "a: 1\nb: 2\na: 3",
            "3:1",
            "`a` is given twice; the first is in line 1",
            "keep one of the two",
        ),
        ("a: 'it is\nb: c\n", "1:4", "a quote is opened and never closed", "close it"),
        ("a: 1\n---\nb: 2", "2:1", "a second document begins here", "delete `---`"),
        ("? [a, b]\n: c", "1:3", "a field's name must be one word", ""),
        ("? ~\n: c", "1:3", "a field has no name", ""),
        (
            "a: b\nc: x\x07",
            "2:5",
            "the control character U+0007 may not stand in a text",
            "delete it",
        ),
        (
            'a: "\\x07"',
            "1:4",
            "an escape stands for a character that may not stand in a text",
            "delete it",
        ),
        (b"a: b\nc: \xe4", "2:4", "byte 0xe4 is not UTF-8", "save the file in the encoding UTF-8"),
        (
            "a:\n  b: 1\n c: 2\n",
            "3:2",
            "the line does not fit in here",
            "check its indentation, and that a text in quotes ends with its quote",
        ),
    ],
)
def test_broken_text_is_explained_at_its_place(
    source: str | bytes, place: str, message: str, mend: str
) -> None:
    assert refused(source) == [(place, message, mend)]


def test_what_is_not_foreseen_is_said_in_the_parsers_words() -> None:
    [(_, message, mend)] = refused("%YAML 9.9\n---\na: b\n")
    assert message.startswith("this is not YAML: found incompatible YAML document")
    assert mend == "check quotes, colons and indentation"


def test_all_problems_that_can_be_told_apart_are_told_together() -> None:
    assert len(refused("a: 1\na: 2\nb: !x 1\nc: {d, e}\n")) == 4


def test_too_deep() -> None:
    assert read("[" * DEEPEST + "]" * DEEPEST).data is not None
    message = f"more than {DEEPEST} lists and mappings within one another"
    assert refused("[" * (DEEPEST + 1)) == [(f"1:{DEEPEST + 1}", message, "split the file")]
    assert refused("[" * 100_000)[0][2] == "split the file"


def test_too_large() -> None:
    message = f"the file is larger than {LARGEST:,} bytes"
    assert refused("#" * (LARGEST + 1)) == [("1:1", message, "shorten its texts, or split it")]


def test_too_many_aliases() -> None:
    text = "a: &x y\nb: [" + ", ".join(["*x"] * (MOST_ALIASES + 1)) + "]\n"
    assert [message for _, message, _ in refused(text)] == ["more than 100 aliases (`*name`)"]


def test_aliases_that_multiply_are_stopped_before_they_are_written_out() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 9)]
    assert [message for _, message, _ in refused("\n".join(lines))] == [
        "more than 500,000 values with all aliases written out"
    ]


NESTED = st.recursive(
    st.none() | st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text("abcdefgh-", min_size=1, max_size=6), inner, max_size=4)
    ),
    max_leaves=12,
)


@given(NESTED)
def test_what_is_written_is_read(data: object) -> None:
    """JSON is YAML; `json` is the independent reader of the same text."""
    text = json.dumps(data, ensure_ascii=False)
    assert read(text).data == json.loads(text)


@given(st.text(max_size=60))
def test_no_text_ends_in_a_traceback(text: str) -> None:
    marked, problems = read_marked(text, "a.yaml")
    assert (marked is None) == bool(problems)


@given(st.binary(max_size=60))
def test_no_bytes_end_in_a_traceback(content: bytes) -> None:
    marked, problems = read_marked(content, "a.yaml")
    assert (marked is None) == bool(problems)
