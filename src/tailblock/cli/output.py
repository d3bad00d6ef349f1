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
# Bell, backspace, vertical tab, feed and return: no text of ours holds them, one of
# a person may.
_MOVES_THE_CURSOR = dict.fromkeys((0x07, 0x08, 0x0B, 0x0C, 0x0D))
_LOOK: Mapping[Style, str] = {"plain": "", "title": "bold", "danger": "bold red", "quiet": "dim"}


class Screen:
    """Where text for a person goes."""

    def __init__(self) -> None:
        self._wrap = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
        self._console = _console() if self._wrap else None

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
        if self._console is None:
            typer.echo(" " * indent + text.translate(_MOVES_THE_CURSOR))
            return
        from rich.padding import Padding
        from rich.text import Text

        line = Padding(Text(text, style=_LOOK[style]), (0, 0, 0, indent))
        self._console.print(line, width=min(self._console.width, WIDEST))


def _console() -> Console:
    """Return a console that leaves a closed pipe to the boundary.

    Its library is loaded here: what is not for a terminal has no use for it.
    """
    from rich.console import Console

    class Ours(Console):
        def on_broken_pipe(self) -> NoReturn:
            raise BrokenPipeError

    return Ours(file=sys.stdout, force_terminal=True, highlight=False)


def print_data(data: Mapping[str, Any]) -> None:
    """Print an answer as JSON, with the version of its shape in front."""
    typer.echo(json.dumps({"tailblock": CONTRACT, **data}, ensure_ascii=False, indent=2))
