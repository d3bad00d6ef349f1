"""The same questions to this engine and to general-purpose libraries, and the same answers.

(a) is the posterior of every fault; (b) for every unread finding its predictive distribution and
the posterior of every fault given each level, with the gains from them. The first library has no
single call for (b): it gets one propagation a level of each finding, or, the cheaper way, one a
level but the last of "at most this level" as soft evidence, from which the levels follow by
subtraction (one-sided findings only; the two-sided ones by level). Networks are built before the
clock starts on all sides; all sides start from entered evidence anew, unless the tree is `kept`:
then both have answered the same questions before. Only faults are asked of the library while it
propagates a level: it leaves out what is barren.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pyagrum

from oracles import bayes_library
from tailblock.advice.gain import information, informations
from tailblock.inference import Reasoner
from tailblock.inference.grouping import group_causes
from tailblock.inference.skeleton import skeleton_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.inference import Prediction
    from tailblock.network.arrays import Evidence, FloatArray, Network

SAME = 1e-8


@dataclass(frozen=True, slots=True)
class Answer:
    """(a) and (b): for each unread finding its chances, P(level, fault) and its gain [bits]."""

    posterior: FloatArray
    chance: tuple[FloatArray, ...]
    joint: tuple[FloatArray, ...]
    gain: tuple[float, ...]

    def every(self, step: int) -> Answer:
        """Return the answer for every so many-th unread finding only."""
        return Answer(self.posterior, self.chance[::step], self.joint[::step], self.gain[::step])

    def check(self, other: Answer) -> None:
        """Fail unless both say the same to 1e-8, everywhere."""
        same(self.posterior, other.posterior)
        for one, two in zip(self.chance, other.chance, strict=True):
            same(one, two)
        for one, two in zip(self.joint, other.joint, strict=True):
            same(one, two)
        same(np.array(self.gain), np.array(other.gain))


def same(one: FloatArray, two: FloatArray) -> None:
    np.testing.assert_allclose(one, two, rtol=0.0, atol=SAME)


def unread(network: Network, evidence: Evidence) -> list[int]:
    return [k for k in range(len(network.findings)) if k not in evidence.soft]


def forget() -> None:
    """Drop the trees that this engine keeps."""
    skeleton_of.cache_clear()
    group_causes.cache_clear()


def posteriors(network: Network, evidence: Evidence, *, kept: bool = False) -> FloatArray:
    """Return (a), by this engine."""
    if not kept:
        forget()
    return Reasoner(network, evidence).beliefs.probability


def everything(network: Network, evidence: Evidence, *, kept: bool = False) -> Answer:
    """Return (a) and (b), by this engine; each fault weighs the same."""
    if not kept:
        forget()
    reasoner = Reasoner(network, evidence)
    predictions = reasoner.predict(unread(network, evidence))
    return Answer(
        reasoner.beliefs.probability,
        tuple(p.chance for p in predictions),
        tuple(p.chance[:, None] * p.posterior for p in predictions),
        tuple(_gains(predictions)),
    )


def _gains(predictions: Sequence[Prediction]) -> list[float]:
    """Return the gain of each, those with as many levels together, as the product does."""
    gains = [0.0] * len(predictions)
    for levels in {len(p.chance) for p in predictions}:
        alike = [place for place, p in enumerate(predictions) if len(p.chance) == levels]
        chance = np.array([predictions[place].chance for place in alike])
        posterior = np.array([predictions[place].posterior for place in alike])
        for place, bits in zip(alike, informations(chance, posterior).sum(axis=1), strict=True):
            gains[place] = float(bits)
    return gains


def library_posteriors(network: Network, evidence: Evidence, net: pyagrum.BayesNet) -> FloatArray:
    """Return (a), by the library's lazy propagation."""
    return library_again(network, evidence, library_engine(network, net))


def library_engine(network: Network, net: pyagrum.BayesNet) -> pyagrum.LazyPropagation:
    """Return the library's engine, asked for all faults."""
    engine = _engine(net)
    engine.setTargets(_faults(network))
    return engine


def library_again(
    network: Network, evidence: Evidence, engine: pyagrum.LazyPropagation
) -> FloatArray:
    """Return (a), by an engine of the library that may have answered before."""
    engine.eraseAllEvidence()
    bayes_library.enter(engine, evidence)
    return bayes_library.read(engine, len(network))


def library_everything(
    network: Network,
    evidence: Evidence,
    net: pyagrum.BayesNet,
    asked: Sequence[int],
    *,
    at_most: bool,
) -> Answer:
    """Return (a), and (b) of the findings asked, by the library; `at_most`: the cheaper way."""
    engine = _engine(net)
    engine.setTargets(_faults(network) | {f"x{k}" for k in asked})
    bayes_library.enter(engine, evidence)
    now = bayes_library.read(engine, len(network))
    chances = tuple(np.array(engine.posterior(f"x{k}").tolist()) for k in asked)
    engine.setTargets(_faults(network))
    joints, gains = [], []
    for k, chance in zip(asked, chances, strict=True):
        trick = at_most and network.findings[k].low.top == 0
        joint = (_by_subtraction if trick else _by_level)(engine, k, chance, now)
        given = np.divide(
            joint, chance[:, None], out=np.zeros_like(joint), where=chance[:, None] > 0.0
        )
        joints.append(joint)
        gains.append(float(information(chance, given).sum()))
    return Answer(now, chances, tuple(joints), tuple(gains))


def _by_level(
    engine: pyagrum.LazyPropagation, k: int, chance: FloatArray, now: FloatArray
) -> FloatArray:
    rows = np.eye(len(chance))
    return np.array([p * _given(engine, k, row, now) for p, row in zip(chance, rows, strict=True)])


def _by_subtraction(
    engine: pyagrum.LazyPropagation, k: int, chance: FloatArray, now: FloatArray
) -> FloatArray:
    at_most = np.tri(len(chance))[:-1]
    below = [q * _given(engine, k, row, now)
             for q, row in zip(chance.cumsum()[:-1], at_most, strict=True)]  # fmt: skip
    return np.diff(np.array([np.zeros_like(now), *below, now]), axis=0).clip(0.0)


def _given(
    engine: pyagrum.LazyPropagation, k: int, likelihood: FloatArray, now: FloatArray
) -> FloatArray:
    """Return the posteriors with one more likelihood; anything for one that cannot be."""
    engine.addEvidence(f"x{k}", likelihood.tolist())
    try:
        return bayes_library.read(engine, len(now))
    except pyagrum.IncompatibleEvidence:
        return now
    finally:
        engine.eraseEvidence(f"x{k}")


def _engine(net: pyagrum.BayesNet) -> pyagrum.LazyPropagation:
    engine = pyagrum.LazyPropagation(net)
    engine.setNumberOfThreads(1)
    return engine


def _faults(network: Network) -> set[str]:
    return {f"n{node}" for node in range(len(network))}
