"""A checklist is opened only if everything that it names is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tailblock.errors import ProblemsFound
from tailblock.knowledge.library import ChecklistNotFound, Shelves
from tailblock.knowledge.ready import open_checklist

EXAMPLES = Path(__file__).parents[1] / "examples"
Write = Callable[..., Path]


def shelf(write: Write, example: str) -> Shelves:
    text = (EXAMPLES / f"{example}.yaml").read_text(encoding="utf-8")
    return Shelves(given=write(text, "shelf/smallest").parent)


def test_a_sound_one(checklist_folder: Write) -> None:
    assert open_checklist("smallest", shelf(checklist_folder, "good/smallest")).id == "smallest"


@pytest.mark.parametrize("example", ["few-checks", "no-remedy", "no-source", "unused"])
def test_what_lint_only_wishes_for_does_not_stop_the_work(
    checklist_folder: Write, example: str
) -> None:
    assert open_checklist("smallest", shelf(checklist_folder, f"bad/{example}")).id == "smallest"


@pytest.mark.parametrize(
    "example",
    ["dangling-fault", "ring-of-causes", "unit-of-limit", "level-rising", "unknown-trait",
     "missing-field", "tab"],
)  # fmt: skip
def test_one_that_cannot_be_relied_on(checklist_folder: Write, example: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        open_checklist("smallest", shelf(checklist_folder, f"bad/{example}"))
    assert all(problem.severity == "error" for problem in caught.value.problems)
    assert "checklist.yaml:" in str(caught.value)


def test_one_that_is_not_there(checklist_folder: Write) -> None:
    with pytest.raises(ChecklistNotFound):
        open_checklist("largest", shelf(checklist_folder, "good/smallest"))
