"""The command `tailblock`: its commands put together, and the entry point.

In: a command line. Out: an exit code.
"""

from __future__ import annotations

import gc
import os
import sys
from typing import TYPE_CHECKING, Annotated

import typer

from tailblock.cli import begin, causes, checklist, demo, figure, reading, report, walk
from tailblock.cli.boundary import guarded

if TYPE_CHECKING:
    from collections.abc import Sequence

# A short process makes many objects and few of them are garbage: looking for it as often as Python
# does by itself costs a quarter of a cold `next`.
_OBJECTS_BETWEEN_COLLECTIONS = 1_000_000

app = typer.Typer(
    name="tailblock",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["--help", "-h"]},
)


def _print_version(wanted: bool) -> None:
    if wanted:
        from tailblock import __version__

        typer.echo(f"tailblock {__version__}")
        raise typer.Exit


@app.callback()
def tailblock(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_print_version, is_eager=True, help="Say the version."),
    ] = False,
) -> None:
    """Inspect a fretted instrument: what is probably wrong, what to look at next, a report."""


app.command("begin")(begin.begin)
app.command("walk")(walk.walk)
app.command("record")(reading.record)
app.command("next")(causes.next_)
app.command("causes")(causes.causes)
app.command("why")(causes.why)
app.command("accept")(reading.accept)
app.command("report")(report.report)
app.command("figure")(figure.figure)
app.command("lint")(checklist.lint)
app.command("table")(checklist.table)
app.command("schema")(checklist.schema)
app.command("demo")(demo.demo)


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
    words = list(sys.argv[1:] if arguments is None else arguments)
    return guarded(lambda: app(words, prog_name="tailblock", standalone_mode=False))
