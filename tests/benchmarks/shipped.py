"""The shipped flat-top checklist with readings drawn from its own network.

Traits are drawn by their shares, the instrument and its answers from the network, each answer
through its gauge. Out: figures, each a list over the instruments.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from benchmarks.clock import peak, timed
from benchmarks.engines import forget
from tailblock.advice.gain import gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.reasons import reasons
from tailblock.advice.steadiness import MEMBERS
from tailblock.inference import Reasoner
from tailblock.inference.batch import many_beliefs
from tailblock.inference.outcomes import say
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.network.jitter import jittered

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.network import Compiled
    from tailblock.network.arrays import FloatArray

ID = "flat-top"
READINGS = 40
ASKED = 12  # faults whose joint sets are looked for: as many as the report asks about

# The clock starts when a new process has imported what any command needs. Its memory is what Linux
# calls VmHWM: getrusage would count that of the process that started it.
COLD = f"""
import sys, time
from datetime import date
from pathlib import Path
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.network import VisitSkeleton, compile_network
start = time.perf_counter()
checklist = open_checklist({ID!r}, Shelves(), Path(sys.argv[1]) if sys.argv[1:] else None)
compile_network(checklist, {{}}, [VisitSkeleton("look", date(2026, 1, 1))])
print(1e3 * (time.perf_counter() - start))
status = Path("/proc/self/status").read_text().splitlines()
print(next(float(line.split()[1]) / 1024 for line in status if line.startswith("VmHWM")))
"""


@dataclass(frozen=True, slots=True)
class Drawn:
    """An instrument of the checklist with answers, and what is still to be asked of it."""

    checklist: Checklist
    compiled: Compiled
    evidence: Evidence
    gauges: Mapping[str, FloatArray]

    @property
    def unread(self) -> list[int]:
        findings = range(len(self.compiled.findings))
        return [k for k in findings if k not in self.evidence.soft]


def draw(checklist: Checklist, seed: int) -> Drawn:
    """Return an instrument and `READINGS` answers; the same for the same seed."""
    dice = np.random.default_rng(seed)
    traits = {
        trait.id: str(dice.choice([*trait.shares], p=_shares([*trait.shares.values()])))
        for trait in checklist.traits.values()
        if trait.shares
    }
    visit = VisitSkeleton(next(iter(checklist.stages)), date(2026, 1, 1))
    compiled = compile_network(checklist, traits, [visit])
    gauges = reported_by_check(checklist, traits, [name.check for name in compiled.findings])
    asked = sorted(dice.choice(len(compiled.findings), READINGS, replace=False).tolist())
    bare = Reasoner(compiled.network, Evidence())
    truth = say(compiled.network, asked, bare.draw(1, dice), dice)[0]
    soft = {}
    for k, level in zip(asked, truth.tolist(), strict=True):
        outcomes = compiled.network.findings[k].outcomes
        reported = gauges.get(compiled.findings[k].check, np.eye(outcomes))
        row = reported[:, int(dice.choice(outcomes, p=_shares(reported[level])))]
        soft[k] = tuple(float(x) for x in row / row.max())
    return Drawn(checklist, compiled, Evidence(soft), gauges)


def _shares(weights: object) -> FloatArray:
    array = np.asarray(weights, dtype=float)
    return array / array.sum()  # type: ignore[no-any-return]


def everything(drawn: Drawn, *, kept: bool) -> object:
    """Return (a), (b), gains and the weights of evidence of every reading."""
    if not kept:
        forget()
    reasoner = Reasoner(drawn.compiled.network, drawn.evidence)
    predictions = reasoner.predict(drawn.unread)
    gain = gains(drawn.checklist, drawn.compiled, predictions, drawn.gauges)
    without = reasoner.leave_one_out()
    return gain, reasons(drawn.checklist, drawn.compiled, reasoner.beliefs, without, {})


def steady(drawn: Drawn) -> object:
    """Return what a batch of jittered networks believes, their tables drawn anew."""
    dice = np.random.default_rng(0)
    networks = jittered(drawn.compiled.network, list(drawn.evidence.soft), dice, MEMBERS)
    return many_beliefs(networks, Evidence(dict(enumerate(drawn.evidence.soft.values()))))


def shipped(instruments: int, repeats: int) -> Mapping[str, list[float]]:
    """Return the figures of the checklist by name: milliseconds, and MiB."""
    figures = defaultdict(list)
    checklist = open_checklist(ID, Shelves())
    for seed in range(instruments):
        for name, value in _one(draw(checklist, seed), repeats).items():
            figures[f"flat-top: {name}"].append(value)
    with tempfile.TemporaryDirectory() as folder:
        cold(folder)
        for _ in range(instruments):
            for name, words in (("read from YAML", ()), ("kept", (folder,))):
                milliseconds, mebibytes = cold(*words)
                figures[f"flat-top: compiled, {name}, ms"].append(milliseconds)
                figures[f"flat-top: compiled, {name}, MiB of the process"].append(mebibytes)
    return figures


def _one(drawn: Drawn, repeats: int) -> Mapping[str, float]:
    reasoner = Reasoner(drawn.compiled.network, drawn.evidence)
    rise = reasoner.beliefs.probability - reasoner.priors.probability
    faults = [drawn.compiled.node_of(id_) for id_ in drawn.checklist.faults
              if id_ in drawn.compiled.current[-1]]  # fmt: skip
    asked = sorted(faults, key=lambda node: -rise[node])[:ASKED]
    return {
        "(a)+(b)+gains+weights of evidence, ms": 1e3
        * timed(lambda: everything(drawn, kept=False), repeats).seconds,
        "(a)+(b)+gains+weights of evidence, tree kept, ms": 1e3
        * timed(lambda: everything(drawn, kept=True), repeats).seconds,
        "best explanation, ms": 1e3 * timed(lambda: reasoner.best_sets(asked, 1), repeats).seconds,
        "ten best, ms": 1e3 * timed(lambda: reasoner.best_sets(asked, 10), repeats).seconds,
        f"{MEMBERS} jittered networks, ms": 1e3 * timed(lambda: steady(drawn), repeats).seconds,
        "(a)+(b)+gains+weights of evidence, MiB": peak(lambda: everything(drawn, kept=False)),
        f"{MEMBERS} jittered networks, MiB": peak(lambda: steady(drawn)),
        "table cells": float(reasoner.cells),
    }


def cold(*words: str) -> tuple[float, float]:
    """Return what a new process takes to have the network [ms], and the most it held [MiB]."""
    done = subprocess.run(
        [sys.executable, "-c", COLD, *words], check=True, capture_output=True, text=True
    )
    milliseconds, mebibytes = map(float, done.stdout.split())
    return milliseconds, mebibytes
