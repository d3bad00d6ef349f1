"""The commands of a page, run in their order in one folder as its reader would run them.

In: a page with `console` blocks, and with files to write: a line that ends in `path`: and, below
it, the block that holds the file, or a `diff` block with lines to change in it. Out: for each step
what is shown and what was printed. `...` in a block stands for lines left out. `$ echo $?` shows an
exit code and `< FILE` feeds a command, as in a shell.

Run as a script it writes what commands print now into pages; where the last lines are left out, as
many of the first ones as there were, and where the first are left out, as many of the last; other
blocks with lines left out stay as they are. Read the result before you commit it.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import shutil
import sys
import tempfile
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.cli.app import main

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

DOCS = Path(__file__).parents[2] / "docs"
LEFT_OUT = "..."
_BLOCK = re.compile(
    r"(?:^[^\n]*`(?P<path>[\w./-]+)`:\n+)?```(?P<kind>\w+)[^\n]*\n(?P<text>.*?)^```$",
    re.DOTALL | re.MULTILINE,
)
_COMMAND = re.compile(r"^\$ (?P<line>.*)\n(?P<shown>(?:(?!\$ ).*\n)*)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Shown:
    """A command, the lines shown below it, and where these stand in the page."""

    command: str
    lines: list[str]
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Written:
    """A file that the reader writes."""

    path: str
    text: str

    def do(self) -> None:
        path = Path(self.path)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(self.text, encoding="utf-8")


@dataclass(frozen=True, slots=True)
class Changed:
    """Lines that the reader changes in a file; what stands there before stands there once."""

    path: str
    before: str
    after: str

    def do(self) -> None:
        path = Path(self.path)
        text = path.read_text(encoding="utf-8")
        assert text.count(self.before) == 1, (self.path, self.before)
        path.write_text(text.replace(self.before, self.after), encoding="utf-8")


def steps(page: str) -> Iterator[Shown | Written | Changed]:
    """Yield what the reader of a page writes and runs, in order."""
    for block in _BLOCK.finditer(page):
        if block["kind"] == "console":
            for found in _COMMAND.finditer(block["text"]):
                at = block.start("text") + found.start("shown")
                yield Shown(
                    found["line"], found["shown"].splitlines(), at, at + len(found["shown"])
                )
        elif block["path"] and block["kind"] == "diff":
            lines = block["text"].splitlines(keepends=True)
            sides = (
                "".join(line[1:] for line in lines if line[0] in kept) for kept in ("- ", "+ ")
            )
            yield Changed(block["path"], *sides)
        elif block["path"]:
            yield Written(block["path"], block["text"])


class Shell:
    """Runs commands in the present folder and keeps the last exit code."""

    def __init__(self) -> None:
        self.code = 0

    def run(self, command: str) -> list[str]:
        """Return the lines that a command prints, first its answer, then its complaint."""
        if command == "echo $?":
            return [str(self.code)]
        words = shlex.split(command)
        if words[:2] == ["cp", "-r"]:
            shutil.copytree(words[2], words[3])
            return []
        assert words.pop(0) == "tailblock", command
        said = ""
        if words[-2:-1] == ["<"]:
            said = Path(words.pop()).read_text(encoding="utf-8")
            words.pop()
        out, err = io.StringIO(), io.StringIO()
        before, sys.stdin = sys.stdin, io.StringIO(said)
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                self.code = main(words)
        finally:
            sys.stdin = before
        return [line.rstrip() for line in (out.getvalue() + err.getvalue()).splitlines()]


def follow(page: str, each: Callable[[Shown, list[str]], None]) -> None:
    """Do what a page says, in the present folder; `each` gets every command and what it printed."""
    shell = Shell()
    for step in steps(page):
        if isinstance(step, Shown):
            each(step, shell.run(step.command))
        else:
            step.do()


def compare(step: Shown, printed: list[str]) -> None:
    """Fail unless a command printed what the page shows.

    Lines between two `...` stand in the output one after the other, and in this order.
    """
    start = 0
    for left_out, group in groupby(step.lines, key=lambda line: line == LEFT_OUT):
        if left_out:
            continue
        lines = list(group)
        places = range(start, len(printed) - len(lines) + 1)
        found = next((at for at in places if printed[at : at + len(lines)] == lines), None)
        assert found is not None, "\n".join((step.command, *lines, "--- printed:", *printed))
        start = found + len(lines)
    if not step.lines or step.lines[-1] != LEFT_OUT:
        assert start == len(printed), "\n".join((step.command, "--- printed:", *printed))


def filled(page: str) -> str:
    """Return a page with what its commands print now, as far as it shows that."""
    changes: list[tuple[Shown, list[str]]] = []
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        follow(page, lambda step, printed: changes.append((step, printed)))
    for step, printed in reversed(changes):
        if step.lines[-1:] == [LEFT_OUT]:
            printed[len(step.lines) - 1 :] = [LEFT_OUT]
        elif step.lines[:1] == [LEFT_OUT]:
            printed[: len(printed) - len(step.lines) + 1] = [LEFT_OUT]
        if LEFT_OUT not in step.lines[1:-1]:
            page = page[: step.start] + "".join(f"{line}\n" for line in printed) + page[step.end :]
    return page


if __name__ == "__main__":
    os.environ.pop("TAILBLOCK_CHECKLISTS", None)
    for name in sys.argv[1:]:
        (DOCS / name).write_text(
            filled((DOCS / name).read_text(encoding="utf-8")), encoding="utf-8"
        )
