"""All benchmarks in one run, and the page and plots that show them: `.ci/benchmarks`.

Figures are kept as docs/benchmarks.json, and `--page` writes page and plots from them again.
`--quick` takes one network of each of the smaller sizes, to see that everything works; give it a
folder with `--into`.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import subprocess
import sys
import time
from dataclasses import asdict
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks import made
from benchmarks.beside import beside
from benchmarks.growth import growth
from benchmarks.page import Run, write
from benchmarks.plots import draw
from benchmarks.shipped import shipped

if TYPE_CHECKING:
    from collections.abc import Mapping

ROOT = Path(__file__).parents[2]
LIBRARIES = ("numpy", "pyagrum", "pgmpy")
NETWORKS = 9
REPEATS = 7


def main() -> None:
    """Run, keep, write."""
    words = argparse.ArgumentParser(prog="benchmarks", description=__doc__)
    words.add_argument("--page", action="store_true", help="write from the figures that are kept")
    words.add_argument("--quick", action="store_true", help="only see that everything works")
    words.add_argument("--into", type=Path, default=ROOT / "docs", help="the folder to write into")
    asked = words.parse_args()
    figures = asked.into / "benchmarks.json"
    if asked.page:
        run = Run(**json.loads(figures.read_text(encoding="utf-8")))
    else:
        if os.environ.get("OPENBLAS_NUM_THREADS") != "1":
            sys.exit("benchmarks: set OPENBLAS_NUM_THREADS=1, or run .ci/benchmarks")
        run = measured(quick=asked.quick)
        asked.into.mkdir(parents=True, exist_ok=True)
        figures.write_text(json.dumps(asdict(run), indent=1) + "\n", encoding="utf-8")
    (asked.into / "benchmarks.md").write_text(write(run), encoding="utf-8")
    pictures = asked.into / "pictures"
    pictures.mkdir(exist_ok=True)
    for name, rows in run.growth.items():
        picture = pictures / f"benchmarks-{name}.svg"
        picture.write_text(draw(name, rows), encoding="utf-8")


def measured(*, quick: bool) -> Run:
    """Return all figures; the networks of `quick` are too few to say anything."""
    networks, repeats = (1, 1) if quick else (NETWORKS, REPEATS)
    start = time.perf_counter()
    machine = where_and_when()
    figures: dict[str, list[float]] = {}

    def tell(done: str) -> None:
        print(f"{time.perf_counter() - start:6.0f} s  {done}", flush=True)

    for size in made.SIZES[:2] if quick else made.SIZES:
        figures |= beside(size, networks, repeats)
        tell(f"{size.name}, beside the libraries")
    figures |= shipped(networks, repeats)
    tell("the shipped checklist")
    # there are many points: fewer networks and runs each
    rows = growth(1 if quick else 5, min(repeats, 3))
    tell("growth")
    machine |= {"load at the end": _load()}
    return Run(machine, networks, figures, rows)


def where_and_when() -> dict[str, str]:
    """Return what decides about the figures besides the code, and which code it was."""
    commit = subprocess.run(
        ["git", "describe", "--always", "--dirty"], cwd=ROOT, capture_output=True, text=True,
        check=False,
    ).stdout.strip()  # fmt: skip
    return {
        "when": f"{datetime.now(UTC):%Y-%m-%d %H:%M} UTC",
        "commit": commit or "unknown",
        "processor": f"{_processor()}, {os.cpu_count()} cores, one used",
        "system": f"{platform.system()} {platform.machine()}, Python {platform.python_version()}",
        "libraries": ", ".join(_version(name) for name in LIBRARIES),
        "load at the start": _load(),
    }


def _load() -> str:
    return f"{os.getloadavg()[0]:.1f} processes"


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        lines = []
    fields: Mapping[str, str] = {
        name.strip(): value.strip() for name, _, value in (line.partition(":") for line in lines)
    }
    return fields.get("model name") or platform.processor() or platform.machine()


def _version(name: str) -> str:
    try:
        return f"{name} {version(name)}"
    except PackageNotFoundError:
        return f"no {name}"


if __name__ == "__main__":
    main()
