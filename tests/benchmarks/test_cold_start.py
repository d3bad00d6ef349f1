"""How long a person waits for a command: new processes, and where the time of `next` goes. By hand:

.venv/bin/pytest -n 0 -s tests/benchmarks/test_cold_start.py

Modules are compiled beforehand, as an installation does it, and the checklist is kept from an
earlier command. Each run gets a fresh copy of its inspection. Printed are the median wall time and
the least time on a core, which on a busy machine says more: the rest are the neighbours.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest
from pypdf import PdfWriter

from tailblock.cli.app import COMMANDS
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_inspections" / "hot-car.yaml"
WHOLE = ROOT / "demo_inspections" / "one-through-all.yaml"  # with several visits
RUNS = 7
LONG = {"cards", "demo", "diff", "drill", "explain", "test"}  # runs of these: fewer
GOALS = {"--help": 0.25, "next": 0.6}  # s, median wall time on two quiet cores

# The words behind each command, in a folder with `job.yaml`, `whole.yaml` and `estimate.pdf`; what
# would talk with a person is left at once.
WORDS: dict[str, str] = {
    "--help": "",
    "begin": "new.yaml --description Lesson --no-questions",
    "walk": "job.yaml",
    "record": "job.yaml bridge-light solid",
    "next": "job.yaml",
    "causes": "job.yaml",
    "why": "job.yaml bridge-lifting",
    "accept": "job.yaml bridge-lifting --by Ana --why asked",
    "work": "job.yaml bridge-reglue --date 2031-07-14",
    "confirm": "job.yaml --present bridge-lifting",
    "done": "job.yaml --present bridge-lifting",
    "plan": "job.yaml",
    "compare": "whole.yaml",
    "report": "job.yaml",
    "hours": "job.yaml",
    "attach": "estimate.pdf --inspection job.yaml -o both.pdf",
    "book": ".",
    "learn": ".",
    "figure": "relief",
    "lint": "",
    "table": "",
    "cards": "--part nut --depth 3",
    "draw": "--fault bridge-lifting",
    "drill": "--seed 1",
    "schema": "",
    "test": "",
    "new-checklist": "lamps",
    "explain": "bridge-lifting",
    "diff": "flat-top flat-top",
    "demo": "--into shown",
}


def run_once(command: str, folder: Path) -> tuple[float, float]:
    """Return the wall time and the time on a core [s] of one new process."""
    shutil.rmtree(folder / "bench", ignore_errors=True)
    bench = folder / "bench"
    bench.mkdir()
    shutil.copy(DEMO, bench / "job.yaml")
    shutil.copy(WHOLE, bench / "whole.yaml")
    page = PdfWriter()
    page.add_blank_page(595, 842)
    page.write(bench / "estimate.pdf")
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(folder / "compiled")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "tailblock", command, *WORDS[command].split()],
        cwd=bench, env=environment, input="", capture_output=True, text=True, check=False,
    )  # fmt: skip
    wall = time.perf_counter() - start
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert "Traceback" not in done.stderr
    assert done.returncode == 0, done.stderr
    return wall, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_every_command_is_measured() -> None:
    assert WORDS.keys() == {"--help", *COMMANDS}


@pytest.mark.parametrize("command", WORDS)
def test_cold_process(command: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.getbasetemp()
    run_once(command, folder)  # modules are compiled, the checklist is kept
    runs = [run_once(command, folder) for _ in range(3 if command in LONG else RUNS)]
    wall, core = statistics.median(run[0] for run in runs), min(run[1] for run in runs)
    goal = f", goal {GOALS[command]:g} s" if command in GOALS else ""
    print(f"\n{command}: {wall:.2f} s cold, {core:.2f} s on a core, of {len(runs)} runs{goal}")


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
