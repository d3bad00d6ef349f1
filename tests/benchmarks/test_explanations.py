"""Explanations, draws and surprise on the shipped inspections: milliseconds, and ratios in one run.

OPENBLAS_NUM_THREADS=1 .venv/bin/pytest -n 0 -p no:randomly -s tests/benchmarks/test_explanations.py
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

from benchmarks.clock import timed
from tailblock.inference import Reasoner
from tailblock.inference.outcomes import Answers, say
from tailblock.inference.propagate import calibrate
from tailblock.inference.tree import own_tables
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.network.arrays import Evidence
from tailblock.pipeline import examine, open_inspection

if TYPE_CHECKING:
    from tailblock.pipeline import Examined

DEMOS = sorted((Path(__file__).parents[2] / "demo_inspections").glob("*.yaml"))


@pytest.fixture(params=DEMOS, ids=lambda path: path.stem)
def examined(request: pytest.FixtureRequest) -> Examined:
    return examine(*open_inspection(request.param, lambda id_: open_checklist(id_, Shelves())))


def test_ten_best_sets_cost_few_propagations(examined: Examined) -> None:
    reasoner, found = examined.exactly, examined.explanations
    assert reasoner is not None
    assert found is not None
    asked = [examined.compiled.node_of(fault) for fault in found.in_question]
    _ = reasoner.beliefs
    one, ten = (timed(partial(reasoner.best_sets, asked, count)).seconds for count in (1, 10))
    forest, weights = reasoner._forest, reasoner._weights  # the same tree
    pass_ = timed(lambda: calibrate(forest, own_tables(forest), weights)).seconds
    print(f"\n{len(asked)} in question: best {1e3 * one:.1f} ms, ten {1e3 * ten:.1f} ms,", end=" ")
    print(f"one propagation {1e3 * pass_:.1f} ms")
    assert ten < 10 * pass_


def test_a_thousand_instruments_cost_less_than_twenty_reasoners(examined: Examined) -> None:
    reasoner = examined.exactly
    assert reasoner is not None
    network, asked = examined.compiled.network, list(reasoner.evidence.soft)
    dice = np.random.default_rng(0)
    said = say(network, asked, reasoner.draw(999, dice, evidence=False), dice)
    together = timed(lambda: Answers(network, asked).log_probability(said), 3).seconds

    def alone() -> float:
        rows = ((k, network.findings[k].outcomes) for k in asked)
        sharp = {
            k: tuple(float(outcome == answer) for outcome in range(outcomes))
            for (k, outcomes), answer in zip(rows, said[0].tolist(), strict=True)
        }
        return Reasoner(network, Evidence(sharp)).log_evidence

    one = timed(alone).seconds
    print(f"\n999 instruments {1e3 * together:.0f} ms, one reasoner {1e3 * one:.1f} ms")
    assert together < 20 * one
