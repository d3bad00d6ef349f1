"""Numbers that others published, from their tables."""

from __future__ import annotations

import numpy as np
import pytest

from tailblock.inference import Reasoner
from tailblock.inference.divorcing import Factor
from tailblock.inference.factors import FactorGraph, outcome_table
from tailblock.inference.propagate import calibrate
from tailblock.inference.tree import grow, own_tables
from tailblock.network.arrays import Evidence, Finding, Network, Side

NO_SIDE = Side((), np.empty((0, 1)), np.ones(1))


@pytest.mark.parametrize(
    ("cold", "flu", "malaria", "fever"),
    [
        # S. Russell and P. Norvig, Artificial Intelligence: A Modern Approach, noisy-OR table of
        # "fever" (inhibitions cold 0.6, flu 0.2, malaria 0.1); read in a stored page
        (0, 0, 0, 0.0),
        (0, 0, 1, 0.9),
        (0, 1, 0, 0.8),
        (0, 1, 1, 0.98),
        (1, 0, 0, 0.4),
        (1, 0, 1, 0.94),
        (1, 1, 0, 0.88),
        (1, 1, 1, 0.988),
    ],
)
def test_the_textbook_noisy_or(cold: int, flu: int, malaria: int, fever: float) -> None:
    network = Network(
        np.array([0.5, 0.5, 0.5, 0.0]),
        ((), (), (), (0, 1, 2)),
        ((), (), (), (0.4, 0.8, 0.9)),
        (),
    )
    seen = Evidence({}, {0: bool(cold), 1: bool(flu), 2: bool(malaria)})
    assert Reasoner(network, seen).beliefs.probability[3] == pytest.approx(fever, abs=1e-12)


@pytest.mark.parametrize(
    ("a", "b", "levels"),
    [
        # computed by hand from the definition of the leaky noisy-MAX: causes (0.8, 0.3) and
        # (0.5, 0.1), leak (0.1, 0.02), chances of at least level 1 and 2; no published source
        (0, 0, (0.9, 0.08, 0.02)),
        (0, 1, (0.45, 0.432, 0.118)),
        (1, 0, (0.18, 0.506, 0.314)),
        (1, 1, (0.09, 0.5274, 0.3826)),
    ],
)
def test_a_leaky_noisy_max_by_hand(a: int, b: int, levels: tuple[float, ...]) -> None:
    high = Side((0, 1), np.array([[0.2, 0.7, 1.0], [0.5, 0.9, 1.0]]), np.array([0.9, 0.98, 1.0]))
    table = outcome_table(Finding(NO_SIDE, high), (0, 1))
    assert table[a, b] == pytest.approx(levels, abs=1e-12)


# S. L. Lauritzen and D. J. Spiegelhalter, "Local computations with probabilities on graphical
# structures", J. R. Statist. Soc. B 50 (1988) 157-224: the example usually called Asia. Its tables
# were read in the documentation of two public libraries; the posteriors below were computed from
# them by three programs that agree to 4e-16.
A, T, S, L, B, E, X, D = range(8)


def asia() -> list[Factor]:
    def yes(*chances: float) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        p = np.array(chances)
        return np.stack([1.0 - p, p], axis=-1)

    return [
        Factor((A,), yes(0.01)[0]),
        Factor((A, T), yes(0.01, 0.05)),
        Factor((S,), yes(0.5)[0]),
        Factor((S, L), yes(0.01, 0.10)),
        Factor((S, B), yes(0.30, 0.60)),
        Factor((T, L, E), yes(0.0, 1.0, 1.0, 1.0).reshape(2, 2, 2)),
        Factor((E, X), yes(0.05, 0.98)),
        Factor((B, E, D), yes(0.1, 0.7, 0.8, 0.9).reshape(2, 2, 2)),
    ]


@pytest.mark.parametrize(
    ("seen", "chance", "posteriors"),
    [
        ({}, 1.0, (0.01, 0.0104, 0.5, 0.055, 0.45, 0.064828, 0.11029, 0.435971)),
        (
            {D: (0, 1)},
            0.435971,
            (0.010325, 0.018845, 0.633997, 0.102759, 0.833967, 0.120536, 0.162098, 1),
        ),
        (
            {X: (0, 1)},
            0.11029,
            (0.013156, 0.092411, 0.687754, 0.488711, 0.506326, 0.576040, 1, 0.640766),
        ),
        (
            {A: (0, 1), D: (0, 1), X: (1, 0)},
            0.00351315,
            (1, 0.002249, 0.604512, 0.002550, 0.862761, 0.004672, 0, 1),
        ),
        (
            {B: (1, 0), D: (0, 1)},
            0.0723854,
            (0.011728, 0.055315, 0.457595, 0.227256, 0, 0.280207, 0.310593, 1),
        ),
        (
            {X: (0.3, 0.9)},
            0.366174024,
            (0.010570, 0.025221, 0.533930, 0.133379, 0.460179, 0.157213, 0.271076, 0.472981),
        ),
    ],
)
def test_the_asia_network(
    seen: dict[int, tuple[float, float]], chance: float, posteriors: tuple[float, ...]
) -> None:
    told = [Factor((v,), np.array(row, dtype=float)) for v, row in seen.items()]
    forest = grow(FactorGraph(8, (*asia(), *told), ()))
    calibrated = calibrate(forest, own_tables(forest), np.ones(8))
    assert np.exp(calibrated.log_total) == pytest.approx(chance, rel=1e-5)
    assert calibrated.marginals(8) == pytest.approx(posteriors, abs=1e-6)
