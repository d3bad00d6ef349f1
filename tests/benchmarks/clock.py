"""How long something takes and how much memory it holds at most.

In: something to run. Out: `Timed`, or MiB. On shared cores the best of some runs says most: the
others measure the neighbours.
"""

from __future__ import annotations

import time
import tracemalloc
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

Result = TypeVar("Result")
REPEATS = 7


@dataclass(frozen=True, slots=True)
class Timed(Generic[Result]):
    """The best wall time of some runs [s], and what the last of them returned."""

    seconds: float
    result: Result


def timed(run: Callable[[], Result], repeats: int = REPEATS) -> Timed[Result]:
    """Run something some times."""
    start = time.perf_counter()
    result = run()
    best = time.perf_counter() - start
    for _ in range(repeats - 1):
        start = time.perf_counter()
        result = run()
        best = min(best, time.perf_counter() - start)
    return Timed(best, result)


def peak(run: Callable[[], object]) -> float:
    """Return the most that one run holds beyond what was there before [MiB], numpy's included."""
    tracemalloc.start()
    try:
        run()
        return tracemalloc.get_traced_memory()[1] / 2**20
    finally:
        tracemalloc.stop()
