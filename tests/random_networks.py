"""Networks and readings drawn by seed, of the shape of a checklist and of any size.

In: a seed and sizes. Out: a `Network` of every form that the engine accepts; `Evidence` as one
sampled instrument would give it.
"""

from __future__ import annotations

import random

import numpy as np

from oracles.enumeration import outcomes_of
from tailblock.network.arrays import Evidence, Finding, Network, Side


def random_network(seed: int, nodes: int) -> Network:
    """Return a network of `nodes` faults with up to seven causes each and two findings a node."""
    dice = random.Random(seed)
    words = (0.01, 0.03, 0.1, 0.3, 0.6, 0.8, 0.95)

    def side(top: int) -> Side:
        parents = (
            tuple(sorted(dice.sample(range(nodes), dice.randint(1, min(nodes, 5))))) if top else ()
        )

        def row() -> list[float]:
            return [1.0 - w for w in sorted(dice.choices(words, k=top), reverse=True)] + [1.0]

        rows = [row() for _ in parents]
        return Side(parents, np.array(rows).reshape(len(parents), top + 1), np.array(row()))

    parents, strengths = [], []
    for node in range(nodes):
        causes = tuple(sorted(dice.sample(range(node), min(node, dice.choice([0, 1, 2, 3, 7])))))
        parents.append(causes)
        strengths.append(tuple(dice.choice(words) for _ in causes))
    findings = tuple(
        Finding(side(dice.choice([0, 0, 2])), side(dice.choice([1, 2, 3])))
        for _ in range(2 * nodes)
    )
    alone = np.array([dice.choice(words[:5]) for _ in range(nodes)])
    return Network(alone, tuple(parents), tuple(strengths), findings)


def random_evidence(network: Network, seed: int, readings: int) -> Evidence:
    """Return readings drawn from one sampled instrument, some sharp and some blurred."""
    dice = random.Random(seed)
    state: list[int] = []
    for node in range(len(network)):
        absent = 1.0 - float(network.alone[node])
        for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
            absent *= 1.0 - float(strength) if state[cause] else 1.0
        state.append(int(dice.random() > absent))
    soft = {}
    for k in dice.sample(range(len(network.findings)), readings):
        chances = outcomes_of(network.findings[k], np.array([state], dtype=float))[0].tolist()
        level = dice.choices(range(len(chances)), chances)[0]
        blur = dice.choice([0.0, 0.0, 0.3])
        row = [blur ** abs(level - outcome) if blur else 0.0 for outcome in range(len(chances))]
        row[level] = 1.0
        soft[k] = tuple(row)
    return Evidence(soft)
