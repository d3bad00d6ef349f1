"""How probable every fault is, how far the readings moved it, and what that is worth.

In: the checklist and the probabilities of the nodes with and without the readings. Out: one
`CauseBelief` for each fault that applies, the most probable first.
"""

from __future__ import annotations

from functools import lru_cache
from math import log10
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.results import CauseBelief

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.inference.beliefs import Beliefs
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault, Scales
    from tailblock.network.arrays import FloatArray
    from tailblock.network.compile import Compiled

# Odds at 0 and 1 have no logarithm: nothing is taken as surer than this, about 120 decibans.
SUREST = 1e-12
# Evidence beyond this many bits (1000 to 1) makes nothing lead any further (own choice).
ENOUGH = 10.0
RAISED = 2.0  # decibans: what moved less stands where it started, and calls for no work
MORE_OFTEN = 0.5  # more often than not
SURE = 0.80  # from here on a fault is reckoned with as if it were seen
LEAST_LEAD = 0.25  # weighted bits: what was there from the start leads nothing
LEAST = 0.1  # decibans: a reading that weighs less says nothing that a person could use


def decibans(probability: float, start: float) -> float:
    """Return the weight of evidence between two probabilities: 10 log10 of the ratio of their odds.

    Both are first kept within 1e-12 of 0 and 1, so that certainty has a finite weight.

    Parameters
    ----------
    probability, start
        Chances after and before [1].

    Source: I. J. Good, Probability and the Weighing of Evidence, 1950 (from memory).

    >>> round(decibans(0.5, 0.1), 2)  # odds 1 against odds 1/9
    9.54
    """
    return 10 * (log10(_odds(probability)) - log10(_odds(start)))


def _odds(probability: float) -> float:
    kept = min(max(probability, SUREST), 1 - SUREST)
    return kept / (1 - kept)


def weight(fault: Fault, scales: Scales) -> float:
    """Return how much it matters whether a fault is there: harm times pace, less for the past."""
    past = scales.event_weight if fault.kind == "event" else 1.0
    return scales.harm_weight[fault.harm] * scales.pace_weight[fault.pace] * past


@lru_cache(maxsize=8)
def weights(checklist: Checklist) -> Mapping[str, float]:
    """Return the weight of every fault (see `weight`), by its id."""
    return MappingProxyType(
        {id_: weight(fault, checklist.limits) for id_, fault in checklist.faults.items()}
    )


def found(cause: CauseBelief, looked_at: Collection[str]) -> bool:
    """Return whether more than its starting chance speaks for a fault.

    That is so if the readings raised it, or if an answered check shows it (`looked_at`).
    """
    return decibans(cause.probability, cause.prior) >= LEAST or cause.id in looked_at


def applying(checklist: Checklist, compiled: Compiled) -> tuple[str, ...]:
    """Return the ids of the faults that this instrument can have, in the checklist's order."""
    present = {node.id for node in compiled.nodes}
    return tuple(id_ for id_ in checklist.faults if id_ in present)


def standing(checklist: Checklist, compiled: Compiled, beliefs: Beliefs) -> Mapping[str, float]:
    """Return the probability of every fault that applies, on the last visit."""
    return {
        id_: float(beliefs.probability[compiled.node_of(id_)])
        for id_ in applying(checklist, compiled)
    }


def leads(worth: FloatArray, probability: FloatArray, prior: FloatArray) -> FloatArray:
    """Return how far faults lead [weighted bits]: what speaks first when much is probable.

    `weight x P x log2 of the ratio of the odds now and at the start`, the logarithm kept between 0
    and 10: the weight of the evidence for a fault, counted as far as the fault is there. What
    everybody has from the start leads nothing; what was likely and has become certain leads what
    it brings about.

    Parameters
    ----------
    worth
        The weight of each fault, 0 for events of the past.
    probability, prior
        Of each fault, all readings taken or none; axes may follow.

    Source of the weight of evidence: see `decibans`; its product with weight and chance is ours.

    >>> leads(np.array([1.0, 1.0]), np.array([0.6, 0.5]), np.array([0.6, 0.2])).round(2)
    array([0., 1.])
    """
    now, start = (np.clip(p, SUREST, 1 - SUREST) for p in (probability, prior))
    evidence = np.log2(now / (1 - now)) - np.log2(start / (1 - start))
    ahead: FloatArray = worth * probability * evidence.clip(0.0, ENOUGH)
    return ahead


def explained_by(compiled: Compiled) -> Mapping[str, tuple[str, ...]]:
    """Return for each fault the causes of it that explain it, causes before effects.

    A cause explains a fault if, where both are there and no other cause is, the one has more likely
    than not brought about the other: `strength >= 0.5 (1 - (1 - alone)(1 - strength))`.
    """
    network, nodes = compiled.network, compiled.nodes
    current = {node: entry for entry, node in compiled.current[-1].items()}
    found: dict[str, tuple[str, ...]] = {}
    for node, entry in sorted(current.items()):
        chances = zip(network.parents[node], network.strengths[node], strict=True)
        found[entry] = tuple(
            nodes[cause].id
            for cause, strength in chances
            if nodes[cause].id != entry
            and strength >= MORE_OFTEN * (1 - (1 - network.alone[node]) * (1 - strength))
        )
    return found


def behind_causes(
    checklist: Checklist,
    compiled: Compiled,
    ids: Sequence[str],
    lead: FloatArray,
    probability: FloatArray,
) -> FloatArray:
    """Return the same lead with no consequence before a sure cause that explains it.

    One says first what brings the rest about: the dry air before the fret ends that it has laid
    bare. A cause that is only probable, or that the readings have not raised, holds nothing back:
    it is mostly believed for the sake of its consequence. Nor does one that no work mends more
    often than not: the angle that a folded body has lost is what can be put right. What is
    dangerous in tension stands behind nothing.

    Parameters
    ----------
    ids
        The faults that the rows of both arrays belong to; axes may follow.
    """
    kept = lead.copy()
    place = {id_: i for i, id_ in enumerate(ids)}
    fixes = (fix for remedy in checklist.remedies.values() for fix in remedy.fixes)
    mended = {fix.fault for fix in fixes if fix.how_well >= MORE_OFTEN}
    for fault, causes in explained_by(compiled).items():
        if fault not in place or checklist.faults[fault].under_tension == "danger":
            continue
        for cause in mended.intersection(causes):
            own, before = place[fault], place[cause]
            first = (probability[before] >= SURE) & (kept[before] >= LEAST_LEAD)
            behind = np.minimum(kept[own], np.nextafter(kept[before], 0.0))
            kept[own] = np.where(first, behind, kept[own])
    return kept


def worth_of(checklist: Checklist, faults: Sequence[str]) -> FloatArray:
    """Return the weight with which each fault leads: events of the past never do."""
    known = weights(checklist)
    return np.array(
        [0.0 if checklist.faults[id_].kind == "event" else known[id_] for id_ in faults]
    )


def rank(
    checklist: Checklist, compiled: Compiled, beliefs: Beliefs, priors: Beliefs
) -> tuple[CauseBelief, ...]:
    """Return all faults that apply, the most probable first; equals keep the checklist's order.

    Parameters
    ----------
    beliefs, priors
        The probabilities of the compiled nodes with all readings, and with none.
    """
    now = standing(checklist, compiled, beliefs)
    start = standing(checklist, compiled, priors)
    ids = list(now)
    probable, prior = (np.array([side[id_] for id_ in ids]) for side in (now, start))
    ahead = leads(worth_of(checklist, ids), probable, prior)
    lead = behind_causes(checklist, compiled, ids, ahead, probable).tolist()
    causes = [
        _belief(checklist.faults[id_], now[id_], start[id_], ahead)
        for id_, ahead in zip(ids, lead, strict=True)
    ]
    return tuple(sorted(causes, key=lambda cause: -cause.probability))


def _belief(fault: Fault, probability: float, prior: float, lead: float) -> CauseBelief:
    return CauseBelief(
        id=fault.id,
        name=fault.name,
        plain=fault.plain,
        part=fault.part,
        kind=fault.kind,
        harm=fault.harm,
        probability=probability,
        prior=prior,
        decibans=decibans(probability, prior),
        lead=lead,
    )
