"""The file of drills: whole lines only, and a plot that says what it plots."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest

from tailblock.practice.progress import Done, NotProgress, add, as_text, averaged, read, to_svg

if TYPE_CHECKING:
    from pathlib import Path


def drill(bits: float, minutes: float | None = 2.0) -> Done:
    return Done(
        "2031-03-02T10:00+00:00", "flat-top", "seed 1, level 1", 12, bits, minutes, 1, 2, 0, 0, 1
    )


def test_a_drill_is_put_behind_those_that_are_there(tmp_path: Path) -> None:
    path = tmp_path / "progress.jsonl"
    assert read(path) == ()
    assert add(path, drill(3.0)) == (drill(3.0),)
    assert add(path, drill(1.0, None)) == read(path) == (drill(3.0), drill(1.0, None))
    assert len(path.read_text(encoding="utf-8").splitlines()) == 2


@pytest.mark.parametrize(
    "line", ["{", "[1]", "3", '{"at": "x"}', json.dumps({"at": 1, "more": 2}), "\xff"]
)
def test_what_is_no_drill_is_told_by_its_line_and_kept(line: str, tmp_path: Path) -> None:
    path = tmp_path / "progress.jsonl"
    add(path, drill(3.0))
    text = path.read_text(encoding="utf-8") + line + "\n"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(NotProgress, match=r"progress\.jsonl:2: this is no drill"):
        add(path, drill(1.0))
    assert path.read_text(encoding="utf-8") == text


def test_a_drill_of_words_for_numbers_is_none(tmp_path: Path) -> None:
    path = tmp_path / "progress.jsonl"
    add(path, drill(3.0))
    path.write_text(path.read_text(encoding="utf-8").replace("3.0", '"much"'), encoding="utf-8")
    with pytest.raises(NotProgress):
        read(path)


def test_the_line_is_the_mean_of_the_last_five() -> None:
    assert averaged([drill(bits) for bits in (6, 4, 2, 0, 3, 1)]) == [6, 5, 4, 3, 3, 2]


def test_the_longest_bar_is_the_farthest_from_the_advice() -> None:
    first, second, third = as_text([drill(4.0), drill(2.0), drill(-1.0)])
    assert first.endswith("#" * 30)
    assert second.endswith(" " + "#" * 15)
    assert third == "  3  2031-03-02   -1.00 bits  1 of 2 found"


def test_the_plot_has_a_point_for_each_drill_and_higher_is_farther() -> None:
    root = ET.fromstring(to_svg([drill(4.0), drill(-1.0), drill(1.0)]))  # noqa: S314  (ours)
    space = "{http://www.w3.org/2000/svg}"
    heights = [float(each.get("cy", "")) for each in root.iter(f"{space}circle")]
    assert sorted(heights) == [heights[0], heights[2], heights[1]]
    titles = [title.text for title in root.iter(f"{space}title")]
    assert titles[0] == "Regret of 3 drills against the advised order, in bits"
    assert titles[1] == "2031-03-02, seed 1, level 1: +4.00 bits"
    to_svg([drill(0.0)])  # one alone, on the line
