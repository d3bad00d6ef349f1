"""How the time grows with the number of faults, of findings and of readings.

Out: for each of the three a series, count -> milliseconds of (a) and of (a)+(b)+gains, medians over
made networks.
"""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchmarks import engines, made
from benchmarks.clock import timed

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


@dataclass(frozen=True, slots=True)
class Series:
    """What is varied, over which counts, the size for each, and what stays beside it."""

    beside: str
    counts: tuple[int, ...]
    size: Callable[[int], made.Size]


SERIES: Mapping[str, Series] = {
    "faults": Series(
        "two findings each, 30 readings",
        (25, 50, 100, 200, 300, 400),
        lambda count: made.Size("", count, 2 * count, 30),
    ),
    "findings": Series(
        "100 faults, 30 readings",
        (50, 100, 200, 400, 800, 1600),
        lambda count: made.Size("", 100, count, 30),
    ),
    "readings": Series(
        "100 faults, 200 findings",
        (0, 10, 20, 40, 60, 80, 120),
        lambda count: made.Size("", 100, 200, count),
    ),
}


def growth(networks: int, repeats: int) -> Mapping[str, list[list[float]]]:
    """Return for each series its rows: count, (a) [ms], (a)+(b)+gains [ms]."""
    return {
        name: [[float(count), *_median(series.size(count), networks, repeats)]
               for count in series.counts]
        for name, series in SERIES.items()
    }  # fmt: skip


def _median(size: made.Size, networks: int, repeats: int) -> tuple[float, float]:
    a, b = [], []
    for seed in range(networks):
        network = made.network(size, seed)
        evidence = made.evidence(network, size, seed)
        a.append(timed(lambda: engines.posteriors(network, evidence), repeats).seconds)  # noqa: B023
        b.append(timed(lambda: engines.everything(network, evidence), repeats).seconds)  # noqa: B023
    return 1e3 * statistics.median(a), 1e3 * statistics.median(b)
