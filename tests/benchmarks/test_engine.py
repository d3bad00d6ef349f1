"""The engine beside general-purpose libraries: same networks and evidence, one thread, one run.

What is compared: (a) the posteriors of all faults; (b) for every unread finding its predictive
distribution and the posterior of every fault given each level, with the gains from them. The
libraries have no single call for (b): they get one propagation a level of each finding, and, the
cheaper way, one a level but the last of "at most this level" as soft evidence, from which the
levels follow by subtraction (one-sided findings only; the two-sided ones by level). Networks are
built before the clock starts, on both sides; both sides start from entered evidence anew.

.venv/bin/python -m pip install -e '.[test,bench]'
OPENBLAS_NUM_THREADS=1 .venv/bin/pytest -n 0 -p no:randomly -s tests/benchmarks/test_engine.py
"""

from __future__ import annotations

import statistics
import time
from contextlib import suppress
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pyagrum
import pytest

from benchmarks import made
from oracles import bayes_library
from tailblock.advice.gain import information
from tailblock.inference import Reasoner

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tailblock.network.arrays import Evidence, Network

NETWORKS = 9
REPEATS = 7


def seconds(run: Callable[[], object], repeats: int = REPEATS) -> float:
    """Return the best of some runs: on shared cores the others measure the neighbours."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return min(times)


def posteriors(network: Network, evidence: Evidence) -> np.ndarray:
    return Reasoner(network, evidence).beliefs.probability


def everything(network: Network, evidence: Evidence) -> list[float]:
    """Return the gains of all unread findings, each fault weighing the same."""
    reasoner = Reasoner(network, evidence)
    unread = [k for k in range(len(network.findings)) if k not in evidence.soft]
    return [float(information(p.chance, p.posterior).sum()) for p in reasoner.predict(unread)]


def by_library(network: Network, evidence: Evidence, net: pyagrum.BayesNet) -> np.ndarray:
    engine = pyagrum.LazyPropagation(net)
    engine.setNumberOfThreads(1)
    bayes_library.enter(engine, evidence)
    return bayes_library.read(engine, len(network))


def every_level(
    network: Network, evidence: Evidence, net: pyagrum.BayesNet, *, at_most: bool
) -> None:
    """One propagation for each level (or but the last) of every unread finding."""
    engine = pyagrum.LazyPropagation(net)
    engine.setNumberOfThreads(1)
    bayes_library.enter(engine, evidence)
    bayes_library.read(engine, len(network))
    for k, finding in enumerate(network.findings):
        if k in evidence.soft:
            continue
        trick = at_most and finding.low.top == 0
        for level in range(finding.outcomes - trick):
            row = [float(i <= level if trick else i == level) for i in range(finding.outcomes)]
            engine.addEvidence(f"x{k}", row)
            with suppress(pyagrum.IncompatibleEvidence):  # a level that cannot be
                bayes_library.read(engine, len(network))
            engine.eraseEvidence(f"x{k}")


class Compared(NamedTuple):
    """Of one network: our milliseconds, and how many times as long the library takes."""

    posteriors: float
    everything: float
    library_posteriors: float
    library_levels: float
    library_at_most: float


def compared(size: made.Size, seed: int) -> Compared:
    network = made.network(size, seed)
    evidence = made.evidence(network, size, seed)
    net = bayes_library.bayes_net(network, evidence.soft)
    whole = bayes_library.bayes_net(network, range(len(network.findings)))
    np.testing.assert_allclose(
        posteriors(network, evidence), by_library(network, evidence, net), atol=1e-8
    )
    ours = seconds(lambda: posteriors(network, evidence))
    all_of_it = seconds(lambda: everything(network, evidence))
    return Compared(
        1e3 * ours,
        1e3 * all_of_it,
        seconds(lambda: by_library(network, evidence, net)) / ours,
        seconds(lambda: every_level(network, evidence, whole, at_most=False), 1) / all_of_it,
        seconds(lambda: every_level(network, evidence, whole, at_most=True), 1) / all_of_it,
    )


@pytest.mark.parametrize("size", [made.S, made.S_PLUS, made.M], ids=lambda size: size.name)
def test_beside_the_first_library(size: made.Size) -> None:
    rows = [compared(size, seed) for seed in range(NETWORKS)]
    print(f"\n{size.name}: {size.faults} faults, {size.findings} findings, {NETWORKS} networks")
    for label, column, unit in zip(
        ("posteriors", "with predictions and gains", "library: posteriors",
         "library: a propagation a level", "library: at most as soft evidence"),
        zip(*rows, strict=True), ("ms", "ms", "times", "times", "times"), strict=True,
    ):  # fmt: skip
        print(f"  {label:36} {spread(column)} {unit}")


def spread(values: Sequence[float]) -> str:
    return f"{min(values):.3g} / {statistics.median(values):.3g} / {max(values):.3g}"
