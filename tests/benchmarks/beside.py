"""This engine beside the libraries on made networks: figures, each a list over the networks.

Every answer is checked against the libraries' to 1e-8 before its time counts.
"""

from __future__ import annotations

from collections import defaultdict
from importlib.util import find_spec
from typing import TYPE_CHECKING

from benchmarks import engines, made
from benchmarks.clock import Timed, peak, timed
from oracles import bayes_library

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.network.arrays import Evidence, Network

# One query a fault: larger sizes would take the second library more than the whole run may.
SECOND_LIBRARY = {made.S.name, made.S_PLUS.name}
# (b) on the largest size would take the first library more than the whole run may.
FIRST_LIBRARY = {made.S.name, made.S_PLUS.name, made.M.name}
# Of the middle size it is asked the levels of every eighth finding, the rest by proportion: all of
# them take it a minute or two a network.
EVERY = {made.M.name: 8}
# What keeps the whole run short.
REPEATS_AT_MOST = {made.L.name: 3}


def beside(size: made.Size, networks: int, repeats: int) -> Mapping[str, list[float]]:
    """Return the figures of one size, by name: milliseconds, MiB, and how many times as long."""
    figures = defaultdict(list)
    for seed in range(networks):
        for name, value in _one(size, seed, repeats).items():
            figures[f"{size.name}: {name}"].append(value)
    return figures


def _one(size: made.Size, seed: int, repeats: int) -> Mapping[str, float]:
    repeats = min(repeats, REPEATS_AT_MOST.get(size.name, repeats))
    network = made.network(size, seed)
    evidence = made.evidence(network, size, seed)
    a = timed(lambda: engines.posteriors(network, evidence), repeats)
    b = timed(lambda: engines.everything(network, evidence), repeats)
    engines.same(a.result, b.result.posterior)
    a_kept = timed(lambda: engines.posteriors(network, evidence, kept=True), repeats)
    b_kept = timed(lambda: engines.everything(network, evidence, kept=True), repeats)
    figures = {
        "(a), ms": 1e3 * a.seconds,
        "(a), tree kept, ms": 1e3 * a_kept.seconds,
        "(a)+(b)+gains, ms": 1e3 * b.seconds,
        "(a)+(b)+gains, tree kept, ms": 1e3 * b_kept.seconds,
        "(a)+(b)+gains, MiB": peak(lambda: engines.everything(network, evidence)),
    }
    if size.name in FIRST_LIBRARY:
        net = bayes_library.bayes_net(network, evidence.soft)
        other = timed(lambda: engines.library_posteriors(network, evidence, net), repeats)
        engines.same(a.result, other.result)
        figures["pyAgrum lazy propagation, times (a)"] = other.seconds / a.seconds
        engine = engines.library_engine(network, net)
        other = timed(lambda: engines.library_again(network, evidence, engine), repeats)
        engines.same(a.result, other.result)
        figures["pyAgrum lazy propagation, its engine kept, times (a), tree kept"] = (
            other.seconds / a_kept.seconds
        )
        for label, at_most in (("a propagation a level", False), ("at most a level", True)):
            seconds = _levels(size, network, evidence, b.result, at_most=at_most)
            figures[f"pyAgrum, {label}, times (a)+(b)+gains"] = seconds / b.seconds
    if size.name in SECOND_LIBRARY and find_spec("pgmpy"):
        figures["pgmpy variable elimination, times (a)"] = (
            _second_library(network, evidence) / a.seconds
        )
    return figures


def _levels(
    size: made.Size, network: Network, evidence: Evidence, ours: engines.Answer, *, at_most: bool
) -> float:
    """Return what the first library takes for (a) and (b) [s], by proportion where it is long."""
    net = bayes_library.bayes_net(network, range(len(network.findings)))
    step = EVERY.get(size.name, 1)
    asked = engines.unread(network, evidence)

    def run(some: list[int]) -> Timed[engines.Answer]:
        return timed(
            lambda: engines.library_everything(network, evidence, net, some, at_most=at_most), 1
        )

    some = run(asked[::step])
    ours.every(step).check(some.result)
    if step == 1:
        return some.seconds
    none = run([]).seconds
    return none + (some.seconds - none) * len(asked) / len(asked[::step])


def _second_library(network: Network, evidence: Evidence) -> float:
    from benchmarks import second_library  # noqa: PLC0415 (four seconds, and it may not be there)

    model = second_library.model(network, evidence)
    run = timed(lambda: second_library.posteriors(network, evidence, model), 1)
    engines.same(engines.posteriors(network, evidence), run.result)
    return run.seconds
