"""Networks of the product's shape and of a chosen size, invented, for comparing engines.

Faults cluster by part: most causes and most of what a check shows lie in the same part, a few reach
into another. Nothing here says anything about instruments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oracles.enumeration import outcomes_of
from tailblock.network.arrays import Evidence, Finding, Network, Side

WORDS = (0.01, 0.03, 0.10, 0.30, 0.60, 0.80, 0.95)
PART = 8  # faults


@dataclass(frozen=True)
class Size:
    name: str
    faults: int
    findings: int
    readings: int


S = Size("S", 60, 130, 25)
S_PLUS = Size("S+", 100, 200, 30)
M = Size("M", 200, 500, 40)
L = Size("L", 570, 4075, 60)
SIZES = (S, S_PLUS, M, L)


def network(size: Size, seed: int) -> Network:
    """Return a network: 0 to 3 causes a fault, 1 to 4 nodes a finding, one in six two-sided."""
    dice = np.random.default_rng(seed)
    parents, strengths = [], []
    for node in range(size.faults):
        first = node - node % PART
        near = list(range(first, node))
        count = min(len(near), int(dice.choice([0, 1, 2, 3], p=[0.35, 0.35, 0.2, 0.1])))
        causes = {int(c) for c in dice.choice(near, count, replace=False)} if count else set()
        if node >= PART and dice.random() < 0.12:
            causes.add(int(dice.integers(0, first)))
        parents.append(tuple(sorted(causes)))
        strengths.append(tuple(float(dice.choice(WORDS[3:])) for _ in causes))
    findings = tuple(_finding(size, dice) for _ in range(size.findings))
    alone = dice.choice(WORDS[:4], size.faults)
    return Network(alone, tuple(parents), tuple(strengths), findings)


def _finding(size: Size, dice: np.random.Generator) -> Finding:
    part = int(dice.integers(0, (size.faults + PART - 1) // PART)) * PART
    near = np.arange(part, min(part + PART, size.faults))
    two_sided = dice.random() < 1 / 6
    top = int(dice.choice([1, 2, 3], p=[0.35, 0.45, 0.2]))
    return Finding(_side(near, size, top if two_sided else 0, dice), _side(near, size, top, dice))


def _side(near: np.ndarray, size: Size, top: int, dice: np.random.Generator) -> Side:
    if top == 0:
        return Side((), np.empty((0, 1)), np.ones(1))
    count = min(len(near), int(dice.choice([1, 2, 3, 4], p=[0.4, 0.35, 0.2, 0.05])))
    parents = {int(p) for p in dice.choice(near, count, replace=False)}
    if dice.random() < 0.05:
        parents.add(int(dice.integers(0, size.faults)))

    def at_most(words: tuple[float, ...]) -> np.ndarray:
        return np.array([*(1.0 - np.sort(dice.choice(words, top))[::-1]), 1.0])

    rows = np.array([at_most(WORDS[2:]) for _ in parents])
    return Side(tuple(sorted(parents)), rows, at_most(WORDS[:3]))


def evidence(made: Network, size: Size, seed: int) -> Evidence:
    """Return readings of one instrument drawn from the network, a third of them blurred."""
    dice = np.random.default_rng(seed + 1_000)
    state = np.zeros((1, len(made)))
    for node in range(len(made)):
        absent = 1.0 - made.alone[node]
        for cause, strength in zip(made.parents[node], made.strengths[node], strict=True):
            absent *= 1.0 - strength * state[0, cause]
        state[0, node] = float(dice.random() > absent)
    soft = {}
    for k in sorted(int(k) for k in dice.choice(size.findings, size.readings, replace=False)):
        chance = outcomes_of(made.findings[k], state)[0]
        level = int(dice.choice(len(chance), p=chance / chance.sum()))
        row = np.zeros(len(chance))
        row[level] = 1.0
        if dice.random() < 1 / 3 and level > 0:
            row[level - 1] = 0.3
        soft[k] = tuple(float(x) for x in row)
    return Evidence(soft)
