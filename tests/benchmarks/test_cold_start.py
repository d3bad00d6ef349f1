"""How long a person waits: cold processes, and where the time of `next` goes. Run by hand:

.venv/bin/pytest -n 0 -s tests/benchmarks
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection

DEMO = Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml"
RUNS = 9


def cold(*words: str) -> float:
    """Return the median wall time in seconds of a new process."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-m", "tailblock", *words], check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


@pytest.mark.parametrize("words", [("--help",), ("next", str(DEMO), "--json")])
def test_cold_process(words: tuple[str, ...]) -> None:
    print(f"\n{' '.join(words[:1])}: {cold(*words):.2f} s cold, median of {RUNS}")


def test_where_the_time_goes() -> None:
    start = time.perf_counter()
    checklist = open_checklist("flat-top", Shelves())
    loaded = time.perf_counter()
    _, inspection = open_inspection(DEMO, lambda _: checklist)
    opened = time.perf_counter()
    examine(checklist, inspection)
    examined = time.perf_counter()
    examine(checklist, inspection)
    again = time.perf_counter()
    print(
        f"\nchecklist {loaded - start:.3f} s, inspection {opened - loaded:.3f} s, "
        f"examine {examined - opened:.3f} s, once more {again - examined:.3f} s"
    )
