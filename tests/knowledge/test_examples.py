"""Whole checklists under tests/examples: good ones have no problem, bad ones exactly theirs.

A bad file ends in one line a problem: `# expect: line:column rule`. Files are picked up by
themselves; to add an example, add a file.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.lint import lint
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.errors import Problem

EXAMPLES = Path(__file__).parents[1] / "examples"
GOOD = sorted((EXAMPLES / "good").glob("*.yaml"))
BAD = sorted((EXAMPLES / "bad").glob("*.yaml"))


def problems_in(path: Path, write: Callable[..., Path]) -> tuple[Problem, ...]:
    text = path.read_text(encoding="utf-8")
    loaded = load(write(text, "every-form" if "id: every-form" in text else "smallest"))
    if loaded.problems or loaded.checklist is None:
        return loaded.problems
    return lint(loaded.checklist)


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_a_good_example_has_no_problem(path: Path, checklist_folder: Callable[..., Path]) -> None:
    assert [str(problem) for problem in problems_in(path, checklist_folder)] == []


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_example_has_exactly_its_problems(
    path: Path, checklist_folder: Callable[..., Path]
) -> None:
    expected = re.findall(
        r"^# expect: (\d+):(\d+) ([a-z-]+)$", path.read_text("utf-8"), re.MULTILINE
    )
    assert expected, "a bad example ends in `# expect: line:column rule`"
    found = problems_in(path, checklist_folder)
    assert Counter((p.line, p.column, p.rule) for p in found) == Counter(
        (int(line), int(column), rule) for line, column, rule in expected
    ), "\n".join(map(str, found))


def test_there_are_examples() -> None:
    assert len(GOOD) >= 2
    assert len(BAD) >= 50
