"""The worked examples in docs: their commands print what is shown, their drawings are current."""

from __future__ import annotations

import re
import shlex
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from docs.drawings import DRAWINGS, PICTURES
from tailblock.cli.app import application

if TYPE_CHECKING:
    from collections.abc import Iterator

PAGE = (Path(__file__).parents[2] / "docs" / "worked-examples.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"```console\n(.*?)```", re.DOTALL)
LEFT_OUT = "..."
# A number with its unit in the text: it has to stand in what the commands of its section print.
NUMBER = re.compile(r"-?\d+\.?\d* (?:mm|N m|N|Hz)(?![\w²])")


def commands(text: str) -> Iterator[tuple[str, list[str]]]:
    """Yield each command of a text with the lines that should follow it."""
    for block in BLOCK.findall(text):
        for command in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            line, *printed = command.splitlines()
            yield line, printed


def printed_by(command: str) -> list[str]:
    program, *words = shlex.split(command)
    assert program == "tailblock"
    ran = CliRunner().invoke(application(), words)
    assert ran.exit_code == 0, ran.output
    return ran.output.splitlines()


@pytest.mark.parametrize(
    ("command", "shown"), list(commands(PAGE)), ids=[command for command, _ in commands(PAGE)]
)
def test_a_command_prints_what_the_page_shows(command: str, shown: list[str]) -> None:
    """Lines between two `...` stand in the output one after the other, and in this order."""
    printed = printed_by(command)
    start = 0
    for left_out, group in groupby(shown, key=lambda line: line == LEFT_OUT):
        if left_out:
            continue
        lines = list(group)
        places = range(start, len(printed) - len(lines) + 1)
        found = next((at for at in places if printed[at : at + len(lines)] == lines), None)
        assert found is not None, "\n".join((command, *lines, "--- printed:", *printed))
        start = found + len(lines)
    if shown[-1] != LEFT_OUT:
        assert start == len(printed)


@pytest.mark.parametrize("section", PAGE.split("\n## ")[1:], ids=lambda text: text.split("\n")[0])
def test_each_number_of_the_text_is_one_that_was_given_or_came_out(section: str) -> None:
    given = "\n".join(command for command, _ in commands(section))
    came_out = "\n".join("\n".join(printed_by(command)) for command, _ in commands(section))
    known = set(NUMBER.findall(came_out)) | set(
        NUMBER.findall(re.sub(r"(?<=\d)(?=mm|N)", " ", given))
    )
    told = set(NUMBER.findall(BLOCK.sub("", section)))
    bench = {"2 mm", "-0.51 mm", "0.51 mm"}  # the least of a saddle; 2.49 less than 3.0, checked
    assert told - known - bench == set()


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_is_what_the_formulas_make(name: str) -> None:
    """Run `.venv/bin/python tests/docs/drawings.py` after a change, and look at it."""
    assert (PICTURES / name).read_text(encoding="utf-8") == DRAWINGS[name]()
    assert f"pictures/{name}" in PAGE
