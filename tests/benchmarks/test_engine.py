"""One network of each size, engines side by side: pytest-benchmark prints the ratios by group.

.venv/bin/python -m pip install -e '.[test,bench]'
OPENBLAS_NUM_THREADS=1 .venv/bin/pytest -n 0 -p no:randomly tests/benchmarks/test_engine.py

The medians over many networks, with the page and the plots, come from `.ci/benchmarks`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from benchmarks import engines, made
from benchmarks.beside import SECOND_LIBRARY
from oracles import bayes_library

if TYPE_CHECKING:
    from pytest_benchmark.fixture import BenchmarkFixture

pytest.importorskip("pytest_benchmark")
SEED = 0
# The sizes at which one round of the library takes less than a minute.
SIZES = pytest.mark.parametrize("size", made.SIZES[:2], ids=lambda size: size.name)


def _once(benchmark: Any) -> Any:
    return benchmark.pedantic


@SIZES
@pytest.mark.parametrize("engine", ["tailblock", "pyAgrum", "pgmpy"])
def test_posteriors(benchmark: BenchmarkFixture, size: made.Size, engine: str) -> None:
    benchmark.group = f"{size.name}: (a)"
    network = made.network(size, SEED)
    evidence = made.evidence(network, size, SEED)
    ours = engines.posteriors(network, evidence)
    if engine == "tailblock":
        found = benchmark(engines.posteriors, network, evidence)
    elif engine == "pyAgrum":
        net = bayes_library.bayes_net(network, evidence.soft)
        found = benchmark(engines.library_posteriors, network, evidence, net)
    else:
        pytest.importorskip("pgmpy")
        from benchmarks import second_library  # noqa: PLC0415 (it may not be there)

        if size.name not in SECOND_LIBRARY:
            pytest.skip("not feasible")
        model = second_library.model(network, evidence)
        run = second_library.posteriors
        found = _once(benchmark)(run, (network, evidence, model), rounds=1)
    engines.same(ours, found)


@SIZES
@pytest.mark.parametrize("engine", ["tailblock", "a propagation a level", "at most a level"])
def test_everything(benchmark: BenchmarkFixture, size: made.Size, engine: str) -> None:
    benchmark.group = f"{size.name}: (a)+(b)+gains"
    network = made.network(size, SEED)
    evidence = made.evidence(network, size, SEED)
    ours = engines.everything(network, evidence)
    if engine == "tailblock":
        found = benchmark(engines.everything, network, evidence)
    else:
        net = bayes_library.bayes_net(network, range(len(network.findings)))
        found = _once(benchmark)(
            engines.library_everything,
            (network, evidence, net, engines.unread(network, evidence)),
            {"at_most": engine == "at most a level"},
            rounds=1,
        )
    ours.check(found)
