"""The self-consistency run: inspect drawn instruments in three orders and write what came of it.

Each run is kept as a line of JSON as soon as it is done; started again with the same file, only
what is missing is run, and with --draws 0 nothing: the page is made of what is there. Lines of
another content of the checklist or another visit do not count. What was written by hand at the end
of the page is kept.

OPENBLAS_NUM_THREADS=1 .venv/bin/python tests/benchmarks/self_consistency.py --draws 5 --jobs 2
"""

from __future__ import annotations

import argparse
import json
import sys
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_cache_path

from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.practice.consistency_table import page
from tailblock.practice.consistency_worst import by_hand
from tailblock.practice.self_consistency import ORDERS, Order, Run, Trials, from_data

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.knowledge.checklist import Checklist

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "self-consistency.md"

# A master's order on arrival, then with the strings slack and off (common practice, no source):
# people and instrument first, then climate, what loads it, the numbers at pitch, looks at the
# outside, noises, and only then what needs slack strings.
FIXED = (
    "acclimatised", "smell", "rh-room", "rh-case", "climate-story",
    "head-look", "heel-feeler", "bridge-light", "tongue-cracks", "tail-hanger",
    "tension-state", "string-gauge", "string-condition", "profile-sight",
    "relief-bass", "nut-gap-third", "action-12-bass", "action-12-treble", "saddle-exposure",
    "projection", "belly-across", "front-dip", "bridge-tilt", "ridge-light",
    "top-look", "seam-look", "bridge-line-look", "guard-line", "back-look",
    "knock-round", "fret-ends", "c-pins-pop", "wire-mute", "capo-compare", "intonation",
    "bridge-feeler", "fret-rock", "bridge-thick", "plate-mirror", "brace-film", "brace-mirror",
    "brace-hand", "transverse-film", "hole-brace-film", "x-lap", "plate-film", "plate-crack",
    "block-mirror", "back-film", "fret-level-edge", "fret-height",
)  # fmt: skip

Job = tuple[str, str, str, int, Order]  # checklist, stage, fault, draw, order


@cache
def trials(name: str, stage: str) -> Trials:
    """Return the trials of a checklist, one for each process."""
    checklist = opened(name)
    missing = [check for check in FIXED if check not in checklist.checks]
    if missing:
        sys.exit(f"the fixed order names checks that {name} does not have: {', '.join(missing)}")
    return Trials(checklist, stage, FIXED)


def opened(name: str) -> Checklist:
    return open_checklist(name, Shelves(), user_cache_path("tailblock", appauthor=False))


def run(job: Job) -> Run:
    name, stage, fault, draw, order = job
    return trials(name, stage).run(fault, draw, order)


def kept(file: Path, mark: str) -> Iterator[Run]:
    """Yield the runs of a file that belong to this content and visit; a torn last line does not."""
    if not file.exists():
        return
    for line in file.read_text(encoding="utf-8").splitlines():
        try:
            data = json.loads(line)
        except json.JSONDecodeError:
            continue
        if data["mark"] == mark:
            yield from_data(data["run"])


def end_torn_line(file: Path) -> None:
    """End a line that was broken off, so that the next one begins on its own."""
    if file.exists() and not file.read_bytes().endswith(b"\n"):
        with file.open("a", encoding="utf-8") as kept_open:
            kept_open.write("\n")


def chosen(checklist: Checklist, named: list[str], sample: int) -> list[str]:
    """Return the faults that were named, or so many spread over the checklist, or all."""
    unknown = [fault for fault in named if fault not in checklist.faults]
    if unknown:
        sys.exit(f"there is no fault {', '.join(unknown)} in {checklist.id}")
    faults = list(checklist.faults)
    if named or not sample:
        return named or faults
    return [faults[i * len(faults) // sample] for i in range(sample)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--checklist", default="flat-top")
    parser.add_argument("--stage", default="arrival")
    parser.add_argument("--draws", type=int, default=1, help="instruments a fault")
    parser.add_argument("--sample", type=int, default=0, help="so many faults; else all")
    parser.add_argument("--faults", nargs="*", default=[], help="these faults")
    parser.add_argument("--jobs", type=int, default=1, help="processes")
    parser.add_argument("--runs", type=Path, default=ROOT / "build/self-consistency.jsonl")
    parser.add_argument("--page", type=Path, default=PAGE)
    given = parser.parse_args()

    checklist = opened(given.checklist)
    mark = f"{checklist.digest[:16]} {given.stage}"
    runs = list(kept(given.runs, mark))
    done = {(one.fault, one.draw, one.order) for one in runs}
    faults = chosen(checklist, given.faults, given.sample)
    # draw by draw, so that a run that is broken off has some of every fault; the orders of one
    # instrument stay together, so that what was advised before is at hand
    jobs: list[Job] = [
        (given.checklist, given.stage, fault, draw, order)
        for draw, fault, order in product(range(given.draws), faults, ORDERS)
        if (fault, draw, order) not in done
    ]
    given.runs.parent.mkdir(parents=True, exist_ok=True)
    end_torn_line(given.runs)
    with (
        ProcessPoolExecutor(given.jobs) as pool,
        given.runs.open("a", encoding="utf-8") as file,
    ):
        for number, one in enumerate(pool.map(run, jobs), start=1):
            file.write(json.dumps({"mark": mark, "run": one.as_data()}) + "\n")
            file.flush()
            runs.append(one)
            print(f"{number} of {len(jobs)}: {one.fault} {one.draw} {one.order} {one.checks}")
    written = by_hand(given.page.read_text(encoding="utf-8")) if given.page.exists() else ""
    given.page.write_text(page(checklist, runs, given.stage, written), encoding="utf-8")
    print(given.page)


if __name__ == "__main__":
    main()
