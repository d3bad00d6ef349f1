"""What is written as YAML reads back as the same data."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import TYPED
from tailblock.inspection import spell
from tailblock.knowledge.yamlmarks import read_marked

if TYPE_CHECKING:
    from tailblock.knowledge.yamlmarks import Data

TEXTS = st.text(TYPED) | st.sampled_from(
    ["null", "~", "", "true", "- a", "a: b", "# a", '5/64"', "off", "0.50", "2031-03-02T10:14", " "]
)
DATA = st.recursive(
    TEXTS,
    lambda below: (
        st.lists(below, max_size=3)
        | st.dictionaries(st.sampled_from(["check", "value", "note"]), below, max_size=3)
    ),
    max_leaves=6,
)


def read(text: str) -> Data:
    marked, problems = read_marked(text, "x.yaml")
    assert problems == ()
    assert marked is not None
    return marked.data


@given(DATA)
def test_any_data_reads_back_as_it_was(data: Data) -> None:
    assert read(f"a: {spell.flow(data)}") == {"a": data}
    assert read("\n".join(spell.field("a", data))) == {"a": data}


@given(st.dictionaries(st.sampled_from(["check", "value", "note"]), DATA, min_size=1))
def test_an_item_of_a_list_reads_back_as_it_was(data: dict[str, Data]) -> None:
    lines = [*spell.item(data), *spell.item(data)]
    assert read("\n".join(lines)) == [data, data]


@pytest.mark.parametrize(
    "bare", ["7/64 in", ".012 in", '1 3/16"', "-2.5 deg", "43 %", "could not reach", "0012"]
)
def test_what_people_write_stays_bare(bare: str) -> None:
    assert spell.scalar(bare) == bare


@pytest.mark.parametrize("text", ["up \x1b[A", "\x00", "\x7f", "\ud800", "\uffff"])
def test_a_control_character_is_refused_by_its_number(text: str) -> None:
    with pytest.raises(
        spell.ControlCharacter, match=r"control character U\+[0-9A-F]{4}, which may"
    ):
        spell.scalar(text)
