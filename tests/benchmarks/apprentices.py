"""Simulated apprentices: the same drills done in random order, in file order, by the advice.

Each drill is kept as a line of JSON as soon as it is done; started again with the same file, only
what is missing is run. All apprentices name what the engine then holds probable, so that only the
order of their checks differs.

OPENBLAS_NUM_THREADS=1 PYTHONPATH=tests .venv/bin/python \\
    tests/benchmarks/apprentices.py --drills 200 --jobs 2
"""

from __future__ import annotations

import argparse
import json
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from statistics import mean
from typing import TYPE_CHECKING, Any

from benchmarks.self_consistency import opened
from tailblock.advice.ranking import LEAST_LEAD
from tailblock.advice.verdict import PROBABLE
from tailblock.practice.bench import Engine
from tailblock.practice.case_faults import LEVELS
from tailblock.practice.cases import draw_case
from tailblock.practice.drill import begun
from tailblock.practice.paired import difference
from tailblock.practice.policies import file_order, in_order, inspect, shuffled
from tailblock.practice.reference import Reference

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.advice import CauseBelief
    from tailblock.practice.cases import Case

ROOT = Path(__file__).parents[2]
WHO = ("random", "file order", "advice")
MINUTES = 30.0  # what ends later does not count

Job = tuple[str, int]  # checklist, number of the drill


def run(job: Job) -> dict[str, Any]:
    """Return what each apprentice reaches in one drill. Levels take turns."""
    name, number = job
    case = draw_case(opened(name), number, LEVELS[number % len(LEVELS)])
    engine = Engine(case.checklist, case.hidden.traits, case.stage)
    advice = Reference(case, engine)
    followed = advice.within(MINUTES)[-1]  # who follows the advice goes the same way
    found = {"advice": reached(case, advice, followed.minutes, followed.missing, followed.causes)}
    for who, names in (
        ("random", shuffled(case.checklist, number)),
        ("file order", file_order(case.checklist)),
    ):
        bench = begun(case, engine)
        minutes, known = 0.0, bench.known
        for _ in inspect(bench, in_order(names), MINUTES):
            minutes, known = bench.minutes, bench.known
        bits = known.missing(case.hidden.faults)
        found[who] = reached(case, advice, minutes, bits, known.causes)
    return {"drill": number, **found}


def reached(
    case: Case, advice: Reference, minutes: float, bits: float, causes: Sequence[CauseBelief]
) -> dict[str, Any]:
    """Return the score of an apprentice who stops here, as a debrief gives it."""
    near = advice.as_near(bits, minutes)
    named = {
        cause.id
        for cause in causes
        if cause.probability >= PROBABLE and cause.probability - cause.prior >= LEAST_LEAD
    }
    return {
        "minutes": minutes,
        "bits": bits,
        "regret_bits": bits - advice.after(minutes),
        "regret_minutes": None if near is None else minutes - near,
        "found": len(named.intersection(case.to_find)) / len(case.to_find),
    }


def kept(file: Path, mark: str) -> Iterator[dict[str, Any]]:
    """Yield the drills of a file that belong to this content of the checklist."""
    if not file.exists():
        return
    for line in file.read_text(encoding="utf-8").splitlines():
        data = json.loads(line)
        if data.pop("mark") == mark:
            yield data


def report(runs: list[dict[str, Any]]) -> None:
    """Print the scores with 95 % intervals, and whether they stand in order."""
    print(f"{len(runs)} drills, {MINUTES:g} minutes each")
    for who in WHO:
        mine = [run[who] for run in runs]
        regret = difference([one["regret_bits"] for one in mine], [0.0] * len(mine))
        late = [one["regret_minutes"] for one in mine if one["regret_minutes"] is not None]
        sooner = f"{mean(late):.1f} min sooner" if late else "never as near"
        print(
            f"{who:<10} {mean(one['bits'] for one in mine):.2f} bits from the truth; regret "
            f"{regret.mean:+.2f} ({regret.low:+.2f} to {regret.high:+.2f}); the advice was as near "
            f"{sooner} in {len(late)} drills; found {mean(one['found'] for one in mine):.0%}"
        )
    for one, other in (("random", "advice"), ("file order", "advice"), ("file order", "random")):
        pairs = difference([run[one]["bits"] for run in runs], [run[other]["bits"] for run in runs])
        verdict = "farther" if pairs.low > 0 else "nearer" if pairs.high < 0 else "open"
        print(
            f"{one} less {other}: {pairs.mean:+.2f} bits "
            f"({pairs.low:+.2f} to {pairs.high:+.2f}): {verdict}"
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--checklist", default="flat-top")
    parser.add_argument("--drills", type=int, default=200)
    parser.add_argument("--jobs", type=int, default=1, help="processes")
    parser.add_argument("--runs", type=Path, default=ROOT / "build/apprentices.jsonl")
    given = parser.parse_args()

    mark = opened(given.checklist).digest[:16]
    runs = list(kept(given.runs, mark))
    done = {one["drill"] for one in runs}
    jobs: list[Job] = [(given.checklist, n) for n in range(given.drills) if n not in done]
    given.runs.parent.mkdir(parents=True, exist_ok=True)
    with (
        ProcessPoolExecutor(given.jobs) as pool,
        given.runs.open("a", encoding="utf-8") as file,
    ):
        for one in pool.map(run, jobs):
            file.write(json.dumps({"mark": mark, **one}) + "\n")
            file.flush()
            runs.append(one)
    report(runs)


if __name__ == "__main__":
    main()
