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


def all_states(nodes: int) -> FloatArray:
    states: FloatArray = np.array(list(itertools.product((0.0, 1.0), repeat=nodes)))
    return states


def prior_of(network: Network, states: FloatArray) -> FloatArray:
    """Return P(state) of every row: the product over nodes of the noisy-OR's answer."""
    chance: FloatArray = np.ones(len(states))
    for node in range(len(network)):
        absent = np.full(len(states), 1.0 - network.alone[node])
        for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
            absent = absent * np.where(states[:, cause] == 1.0, 1.0 - strength, 1.0)
        chance = chance * np.where(states[:, node] == 1.0, 1.0 - absent, absent)
    return chance


def at_most(side: Side, level: int, states: FloatArray) -> FloatArray:
    """Return P(level of this side <= `level` | state) of every row."""
    if level < 0:
        return np.zeros(len(states))
    chance: FloatArray = np.full(len(states), side.leak[level])
    for row, parent in enumerate(side.parents):
        chance = chance * np.where(states[:, parent] == 1.0, side.cumulative[row, level], 1.0)
    return chance


def outcomes_of(finding: Finding, states: FloatArray) -> FloatArray:
    """Return P(outcome | state), rows x outcomes: the high level less the low one."""
    answer: FloatArray = np.zeros((len(states), finding.outcomes))
    for a in range(finding.low.top + 1):
        for b in range(finding.high.top + 1):
            low = at_most(finding.low, a, states) - at_most(finding.low, a - 1, states)
            high = at_most(finding.high, b, states) - at_most(finding.high, b - 1, states)
            answer[:, b - a + finding.low.top] += low * high
    return answer


def enumerate_all(network: Network, evidence: Evidence) -> Enumerated:
    states = all_states(len(network))
    weight = prior_of(network, states)
    for node, present in evidence.hard.items():
        weight = weight * (states[:, node] == float(present))
    for k, likelihood in evidence.soft.items():
        scaled = np.array(likelihood) / max(likelihood)
        weight = weight * (outcomes_of(network.findings[k], states) @ scaled)
    return Enumerated(states, weight)
