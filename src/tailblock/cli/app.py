"""The command `tailblock`: its commands put together, and the entry point.

In: a command line. Out: an exit code.
"""

from __future__ import annotations

import gc
import os
import sys
from importlib import import_module
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli.boundary import guarded

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

# A short process makes many objects and few of them are garbage: looking for it as often as Python
# does by itself costs a quarter of a cold `next`.
_OBJECTS_BETWEEN_COLLECTIONS = 1_000_000

# Command -> the module of this folder and the function in it, in the order of the help.
COMMANDS = {
    "begin": ("begin", "begin"),
    "walk": ("walk", "walk"),
    "record": ("reading", "record"),
    "photo": ("photo", "photo"),
    "next": ("next_check", "next_"),
    "causes": ("causes", "causes"),
    "why": ("why", "why"),
    "accept": ("reading", "accept"),
    "work": ("work", "work"),
    "confirm": ("work", "confirm"),
    "done": ("work", "done"),
    "plan": ("plan", "plan"),
    "compare": ("compare", "compare"),
    "report": ("report", "report"),
    "hours": ("hours", "hours"),
    "attach": ("attach", "attach"),
    "book": ("book", "book"),
    "learn": ("learn", "learn"),
    "figure": ("figure", "figure"),
    "lint": ("checklist", "lint"),
    "table": ("checklist", "table"),
    "cards": ("cards", "cards"),
    "draw": ("draw", "draw"),
    "drill": ("drill", "drill"),
    "schema": ("checklist", "schema"),
    "test": ("vignettes", "try_"),
    "new-checklist": ("authoring", "new_checklist"),
    "explain": ("explain", "explain"),
    "diff": ("authoring", "diff"),
    "demo": ("demo", "demo"),
}


def _print_version(wanted: bool) -> None:
    if wanted:
        from tailblock import __version__

        typer.echo(f"tailblock {__version__}")
        raise typer.Exit


def _tailblock(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_print_version, is_eager=True, help="Say the version."),
    ] = False,
) -> None:
    """Inspect a fretted instrument: what is probably wrong, what to look at next, a report."""


def application(commands: Iterable[str] = COMMANDS) -> typer.Typer:
    """Return the program with some of its commands; only their modules are imported."""
    app = typer.Typer(
        name="tailblock",
        add_completion=True,
        no_args_is_help=True,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["--help", "-h"]},
    )
    app.callback()(_tailblock)
    for command in commands:
        module, function = COMMANDS[command]
        app.command(command)(getattr(import_module(f"tailblock.cli.{module}"), function))
    return app


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command line and return its exit code.

    Parameters
    ----------
    arguments
        The words behind `tailblock`; those of the process if left out.
    """
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS)
    # Many small matrices: several threads would wait for each other longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # We bring no plugins of pydantic; to look for them it reads what each library says of itself.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    words = list(sys.argv[1:] if arguments is None else arguments)
    # Whoever names a command first wants no other; help and slips of the pen want them all.
    app = application(words[:1] if words and words[0] in COMMANDS else COMMANDS)
    return guarded(lambda: app(words, prog_name="tailblock", standalone_mode=False))


def program() -> int:
    """Run the process's own command line and return its exit code; the entry point."""
    code = main()
    # All that is left goes with the process: to look through it for garbage first takes a tenth of
    # the time of a cold `next`.
    gc.freeze()
    return code
