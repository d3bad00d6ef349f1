"""Printing: text for a person, JSON for a script.

In: lines with an optional style, or plain data; questions to a person. Out: the standard output,
and the answers. Colours and bold only on a terminal and without NO_COLOR (https://no-color.org);
elsewhere lines are neither styled nor wrapped.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Literal, NoReturn

with suppress(ImportError):  # where there is none, a line is edited by the terminal alone
    import readline  # noqa: F401  (its import is what gives `input` its editing)

import typer

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.console import Console

CONTRACT = 1  # the version of the JSON shapes
WIDEST = 100  # columns; longer lines are hard to read

Style = Literal["plain", "title", "danger", "quiet"]
_LOOK: Mapping[Style, str] = {"plain": "", "title": "bold", "danger": "bold red", "quiet": "dim"}


class Screen:
    """Where text for a person goes."""

    def __init__(self) -> None:
        plain = bool(os.environ.get("NO_COLOR")) or not sys.stdout.isatty()
        self._console = _console(plain=plain)
        self._wrap = not plain

    def say(self, text: str = "", style: Style = "plain", *, indent: int = 0) -> None:
        """Print a text, each of its lines set in by `indent`."""
        if not self._wrap:
            text = text.replace("\N{NO-BREAK SPACE}", " ")  # nothing breaks, and a search finds it
        for line in text.splitlines() or [""]:
            self._line(line, style, indent)

    def ask(self, prompt: str) -> str | None:
        """Return what a person writes, or None where the input ends.

        What comes from a pipe is printed after the prompt, so that the record reads like a talk.
        """
        if sys.stdin.isatty():
            try:
                return input(prompt)
            except EOFError:
                self.say()
                return None
        typer.echo(prompt, nl=False)
        line = sys.stdin.readline()
        typer.echo(line.rstrip("\n"))
        return line.rstrip("\n") if line else None

    def _line(self, text: str, style: Style, indent: int) -> None:
        from rich.padding import Padding
        from rich.text import Text

        if self._wrap:
            line = Padding(Text(text, style=_LOOK[style]), (0, 0, 0, indent))
            self._console.print(line, width=min(self._console.width, WIDEST))
        else:
            self._console.print(Text(" " * indent + text))


def _console(*, plain: bool) -> Console:
    """Return a console that leaves a closed pipe to the boundary.

    Its library is loaded here: an answer in JSON has no use for it.
    """
    from rich.console import Console

    class Ours(Console):
        def on_broken_pipe(self) -> NoReturn:
            raise BrokenPipeError

    return Ours(file=sys.stdout, force_terminal=not plain, highlight=False, soft_wrap=plain)


def print_data(data: Mapping[str, Any]) -> None:
    """Print an answer as JSON, with the version of its shape in front."""
    typer.echo(json.dumps({"tailblock": CONTRACT, **data}, ensure_ascii=False, indent=2))
