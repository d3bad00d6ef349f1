"""The same network in pyAgrum, a general-purpose library of graphical models.

Noisy-ORs are its *net* gate, whose link numbers mean what ours mean ("this cause alone brings it
about"); findings are full tables written from the definition in `enumeration`. Soft evidence is the
library's own likelihood evidence.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import pyagrum

from oracles.enumeration import outcomes_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tailblock.network.arrays import Evidence, FloatArray, Network


def bayes_net(network: Network, findings: Iterable[int]) -> pyagrum.BayesNet:
    """Return the library's network: nodes `n0`, `n1`, ... and the findings asked for, `x0`, ..."""
    bn = pyagrum.BayesNet()
    for node in range(len(network)):
        variable = pyagrum.LabelizedVariable(f"n{node}", "", 2)
        bn.addNoisyORNet(variable, float(network.alone[node]))
        for cause, strength in zip(network.parents[node], network.strengths[node], strict=True):
            bn.addWeightedArc(f"n{cause}", f"n{node}", float(strength))
    for k in findings:
        finding = network.findings[k]
        name = f"x{k}"
        bn.add(pyagrum.LabelizedVariable(name, "", finding.outcomes))
        for parent in finding.parents:
            bn.addArc(f"n{parent}", name)
        for states in itertools.product((0, 1), repeat=len(finding.parents)):
            state = np.zeros((1, len(network)))
            state[0, list(finding.parents)] = states
            where = {f"n{p}": s for p, s in zip(finding.parents, states, strict=True)}
            bn.cpt(name)[where] = outcomes_of(finding, state)[0].tolist()
    return bn


def enter(engine: pyagrum.LazyPropagation, evidence: Evidence) -> None:
    """Give the library the evidence, findings as likelihoods."""
    for k, likelihood in evidence.soft.items():
        engine.addEvidence(f"x{k}", list(likelihood))
    for node, present in evidence.hard.items():
        engine.addEvidence(f"n{node}", int(present))


def read(engine: pyagrum.LazyPropagation, nodes: int) -> FloatArray:
    """Return P(node | evidence) of all nodes; this is where the library works it out."""
    engine.makeInference()
    return np.array([engine.posterior(f"n{node}")[1] for node in range(nodes)])


def posterior(network: Network, evidence: Evidence) -> FloatArray:
    """Return P(node | evidence) by the library's lazy propagation."""
    engine = pyagrum.LazyPropagation(bayes_net(network, evidence.soft))
    enter(engine, evidence)
    return read(engine, len(network))
