"""How far a long work has come, shown to whoever sits before a terminal.

In: the things that are worked through. Out: the same things one by one; a bar stands on the error
stream while it takes longer than a moment, and is gone when it is done. A pipe sees nothing of it.
"""

from __future__ import annotations

import sys
from time import monotonic
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator

    from rich.progress import Progress

AT_ONCE = 0.5  # seconds that need no bar

T = TypeVar("T")


def going_through(doing: str) -> Callable[[Collection[T]], Iterator[T]]:
    """Return a way to go through things that shows how far it has come.

    Parameters
    ----------
    doing
        What is done, as it stands before the bar.
    """
    return lambda things: _shown(things, doing)


def _shown(things: Collection[T], doing: str) -> Iterator[T]:
    if not sys.stderr.isatty():
        yield from things
        return
    begun = monotonic()
    bar: Progress | None = None
    try:
        for done, thing in enumerate(things):
            if bar is not None:
                bar.update(bar.task_ids[0], completed=done)
            elif monotonic() - begun > AT_ONCE:
                bar = _bar()
                bar.add_task(doing, total=len(things), completed=done)
                bar.start()
            yield thing
    finally:
        if bar is not None:
            bar.stop()


def _bar() -> Progress:
    """Return a bar; its library is loaded here, where it is wanted."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn()
    return Progress(*columns, console=Console(file=sys.stderr), transient=True)
