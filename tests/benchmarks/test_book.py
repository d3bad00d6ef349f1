"""A case book of 10,000 inspections: to index them, to look again, to search. Run by hand:

.venv/bin/pytest -n 0 -s tests/benchmarks/test_book.py
"""

from __future__ import annotations

import time
from contextlib import closing
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from tailblock.inspection.book import Book, Wanted
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist

DEMO = Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml"
FILES = 10_000
RUNS = 7
WANTED = {
    "all": Wanted({}),
    "trait": Wanted({"bracing": "x"}, since=date(2031, 1, 1)),
    "fault": Wanted({}, fault="bridge-lifting"),
    "fault since": Wanted({}, fault="bridge-lifting", since=date(2035, 6, 1)),
    "overdue": Wanted({}, state="overdue"),
}


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder of inspections, each like a shipped one with its own job and work."""
    folder = tmp_path_factory.mktemp("cases")
    text = DEMO.read_text(encoding="utf-8")
    for number in range(FILES):
        more = ""
        if number % 3 == 0:
            day = f"{2032 + number % 4}-{1 + number % 12:02}-{1 + number % 28:02}"
            more = f"  - {{stage: opened, date: {day}, work: [{{remedy: bridge-reglue}}]}}\n"
        place = folder / f"{number % 100:02}"
        place.mkdir(exist_ok=True)
        (place / f"{number}.yaml").write_text(f"{text}{more}# {number}\n", encoding="utf-8")
    return folder


def _empty_loop() -> float:
    """Return what a busy machine makes of what takes some 30 ms on an idle one [s]."""
    start = time.perf_counter()
    for _ in range(1_000_000):
        pass
    return time.perf_counter() - start


def test_index_and_search(cases: Path, tmp_path: Path) -> None:
    find = cache(lambda name: open_checklist(name, Shelves()))
    find("flat-top")

    def opened() -> Book:
        return Book(cases, find, tmp_path)

    wall, used = time.perf_counter(), time.process_time()
    opened().close()
    print(
        f"\n{FILES:,} files indexed in {time.perf_counter() - wall:.1f} s, "
        f"{time.process_time() - used:.1f} s of them at work"
    )
    print(f"(a million turns of an empty loop take {1000 * _empty_loop():.0f} ms here)")
    for name, wanted in WANTED.items():
        runs = []
        for _ in range(RUNS):
            start = time.perf_counter()
            with closing(opened()) as book:
                ready = time.perf_counter()
                found = book.search(wanted, date(2034, 1, 1), 100)
            done = time.perf_counter()
            runs.append((1000 * (ready - start), 1000 * (done - ready), found.total))
        changes, search, count = min(runs, key=lambda run: run[0] + run[1])
        print(
            f"{name}: {count:,} found in {changes + search:.0f} ms, best of {RUNS} "
            f"(changes looked for in {changes:.0f} ms, index searched in {search:.0f} ms)"
        )
