"""How long a report of a typical inspection takes beyond start-up. Run by hand:

.venv/bin/pytest -n 0 -s -p no:randomly tests/benchmarks/test_report.py

Each form is made in a new process, once: the first one of a process reads its templates and fonts.
Compiled templates are kept from an earlier run, as those of an earlier command would be.
What counts is the time of the processor, the best of some runs: on shared cores the clock on the
wall measures the neighbours too; it is printed beside it.
"""

from __future__ import annotations

import json
import pickle
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build

if TYPE_CHECKING:
    from tailblock.report.model import Copy

DEMO = Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml"
RUNS = 5
PROGRAM = """
import json, pickle, sys, time
from tailblock.report.to_{form} import to_{form}
report = pickle.load(open(sys.argv[1], "rb"))
processor, wall = time.process_time(), time.perf_counter()
to_{form}(report, copy={copy!r})
first = time.process_time() - processor, time.perf_counter() - wall
processor = time.process_time()
to_{form}(report, copy={copy!r})
print(json.dumps([*first, time.process_time() - processor]))
"""
# The reading of the file and of the checklist is start-up: the command keeps the checklist ready.
BUILD = """
import json, sys, time
from pathlib import Path
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build
opened = open_inspection(Path(sys.argv[1]), lambda name: open_checklist(name, Shelves()))
begun, wall = time.process_time(), time.perf_counter()
examined = examine(*opened)
half = time.process_time()
build(examined)
end = time.process_time()
print(json.dumps([half - begun, end - half, time.perf_counter() - wall]))
"""


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a report that is built already: that takes the engine its own time."""
    report = build(examine(*open_inspection(DEMO, lambda id_: open_checklist(id_, Shelves()))))
    path = tmp_path_factory.mktemp("report") / "report.pickle"
    path.write_bytes(pickle.dumps(report))
    return path


# What a report may take [s of the processor].
@pytest.mark.parametrize(("form", "goal"), [("html", 0.2), ("pdf", 1.0), ("markdown", 0.2)])
@pytest.mark.parametrize("copy", ["bench", "player"])
def test_a_report_is_ready_at_once(kept: Path, form: str, goal: float, copy: Copy) -> None:
    runs = []
    for _ in range(RUNS):
        program = PROGRAM.format(form=form, copy=copy)
        done = subprocess.run(
            [sys.executable, "-c", program, str(kept)], check=True, capture_output=True
        )
        runs.append(json.loads(done.stdout))
    first, wall, again = (min(times) for times in zip(*runs, strict=True))
    print(f"\n{form}, {copy}: {first:.3f} s, {wall:.3f} s on the wall; again {again:.3f} s")
    assert first <= goal


def test_what_a_report_says_is_worked_out_while_one_waits() -> None:
    """What is printed is the first report of a process; the goal of half a second is not met yet.

    Most of it are the hours: whether each two pieces of work are done, and what each stop point
    would tell of them, are exact.
    """
    runs = []
    for _ in range(RUNS):
        done = subprocess.run(
            [sys.executable, "-c", BUILD, str(DEMO)], check=True, capture_output=True
        )
        runs.append(json.loads(done.stdout))
    examined, built, wall = (min(times) for times in zip(*runs, strict=True))
    print(f"\nexamined in {examined:.3f} s, built in {built:.3f} s, {wall:.3f} s on the wall")
    assert examined + built <= 4.0
