"""The meaning of a network by brute force: every state of every hidden node, one by one.

Written from the definitions alone and sharing no code with the engine: noisy-OR nodes, noisy-MAX
findings, the net of two sides, likelihoods and hard evidence.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from tailblock.network.arrays import Evidence, Finding, FloatArray, Network, Side


@dataclass(frozen=True)
class Enumerated:
    states: FloatArray  # 2^n x n
    weight: FloatArray  # P(state, evidence)

    @property
    def evidence(self) -> float:
        return float(self.weight.sum())

    @property
    def posterior(self) -> FloatArray:
        answer: FloatArray = self.weight @ self.states / self.weight.sum()
        return answer


def prior_of(network: Network, state: tuple[int, ...]) -> float:
    chance = 1.0
    for node, present in enumerate(state):
        absent = 1.0 - float(network.alone[node])
        for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
            if state[cause]:
                absent *= 1.0 - strength
        chance *= (1.0 - absent) if present else absent
    return chance


def at_most(side: Side, level: int, state: tuple[int, ...]) -> float:
    if level < 0:
        return 0.0
    chance = float(side.leak[level])
    for row, parent in enumerate(side.parents):
        if state[parent]:
            chance *= float(side.cumulative[row, level])
    return chance


def outcomes_of(finding: Finding, state: tuple[int, ...]) -> list[float]:
    answer = [0.0] * finding.outcomes
    for a in range(finding.low.top + 1):
        for b in range(finding.high.top + 1):
            low = at_most(finding.low, a, state) - at_most(finding.low, a - 1, state)
            high = at_most(finding.high, b, state) - at_most(finding.high, b - 1, state)
            answer[b - a + finding.low.top] += low * high
    return answer


def enumerate_all(network: Network, evidence: Evidence) -> Enumerated:
    states = list(itertools.product((0, 1), repeat=len(network)))
    weight = []
    for state in states:
        chance = prior_of(network, state)
        for node, present in evidence.hard.items():
            chance *= float(state[node] == int(present))
        for k, likelihood in evidence.soft.items():
            said = outcomes_of(network.findings[k], state)
            peak = max(likelihood)
            chance *= sum(p * value / peak for p, value in zip(said, likelihood, strict=True))
        weight.append(chance)
    return Enumerated(np.array(states, dtype=float), np.array(weight))
