"""Which faults together explain the readings, and which reading each of them covers.

In: the names, the probabilities, the reasons of each fault, and a reasoner to ask. Out:
`Explanations`: joint sets of the faults in question, the most probable first.

A fault is *in question* if a reading off normal shows it and speaks for it, and it is not
improbable. About all other faults an explanation says nothing: they may be there or not, and its
probability is summed over both. So a dozen faults that nobody asked about do not split one
explanation into thousands.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite, log
from typing import TYPE_CHECKING

from tailblock.inference import Supposition

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.advice.abnormal import Abnormal
    from tailblock.advice.results import CauseBelief, Reasons
    from tailblock.inference import JointSet, Reasoner
    from tailblock.network.compile import Compiled

PROBABLE = 0.10  # from here on a fault may be in question
SPEAKS = 1.0  # decibans: from here on a reading speaks for a fault
COVERS = 0.5  # bits: by so much a reading must be more of a surprise without its fault
MOST_FAULTS = 12  # in question at once: 4,096 sets
MOST_SETS = 5
NEVER = 40.0  # bits: no reading is taken as more surprising, a chance of 1e-12
LEAST = 0.01  # sets less probable than this are no leading ones


@dataclass(frozen=True, slots=True)
class Covered:
    """A reading off normal and the fault of a set that covers it: None if none does.

    `bits`: by how much more surprising it would be, given the set and no other reading, if that
    fault were absent and all else in question as it is.
    """

    check: str
    visit: int
    fault: str | None
    bits: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """Exactly these of the faults in question are there; all others of them are not.

    `faults` are the most probable first; `readings` are all that are off normal.
    """

    faults: tuple[str, ...]
    probability: float
    readings: tuple[Covered, ...]

    @property
    def uncovered(self) -> tuple[Covered, ...]:
        """Return the readings that no fault of the set covers."""
        return tuple(reading for reading in self.readings if reading.fault is None)


@dataclass(frozen=True, slots=True)
class Explanations:
    """The faults in question, the most probable first, and the leading sets of them.

    No sets if no reading is off normal: then there is nothing to explain.
    """

    in_question: tuple[str, ...]
    sets: tuple[Explanation, ...]


def explanations(
    compiled: Compiled,
    readings: Sequence[Abnormal],
    causes: Sequence[CauseBelief],
    reasons: Mapping[str, Reasons],
    reasoner: Reasoner,
) -> Explanations:
    """Return the leading joint explanations of the readings off normal.

    Parameters
    ----------
    readings
        Those off normal, of all visits.
    causes
        All faults that apply, the most probable first.
    reasons
        Of each of them the readings for and against it.
    """
    asked = tuple(c.id for c in causes if _in_question(c, reasons[c.id], readings))[:MOST_FAULTS]
    if not readings:
        return Explanations((), ())
    nodes = {compiled.node_of(fault): fault for fault in asked}
    found = [
        joint for joint in reasoner.best_sets(list(nodes), MOST_SETS) if joint.probability >= LEAST
    ]
    covered = _cover(readings, list(nodes), found, reasoner)
    return Explanations(
        asked,
        tuple(
            Explanation(
                tuple(nodes[node] for node in joint.present),
                joint.probability,
                tuple(
                    Covered(r.check, r.visit, None if node is None else nodes[node], bits)
                    for r, (node, bits) in zip(readings, by, strict=True)
                ),
            )
            for joint, by in zip(found, covered, strict=True)
        ),
    )


def _in_question(cause: CauseBelief, why: Reasons, readings: Sequence[Abnormal]) -> bool:
    shown_by = {(r.check, r.visit) for r in readings if cause.id in r.shows}
    speaks = any((w.check, w.visit) in shown_by and w.decibans >= SPEAKS for w in why.in_favour)
    # what was seen with one's own eyes needs no reading to speak for it
    certain = cause.probability == 1.0 and bool(shown_by)
    return certain or (speaks and cause.probability >= PROBABLE)


def _cover(
    readings: Sequence[Abnormal],
    nodes: Sequence[int],
    sets: Sequence[JointSet],
    reasoner: Reasoner,
) -> list[list[tuple[int | None, float]]]:
    """Return for each set and reading the node that covers it, and by how many bits.

    The surprise of a reading is -log2 P(reading | the set, what was confirmed): other readings
    would stand in for the fault, if they look at the same place. All come from one pass over the
    tree: each set, whole and without each of its faults, with no reading and with each by itself.
    """
    entered = frozenset(reasoner.evidence.soft)
    rows: dict[tuple[frozenset[int], int | None], Supposition] = {}
    for joint in sets:
        whole = frozenset(joint.present)
        for present in (whole, *(whole - {node} for node in whole)):
            there = {node: node in present for node in nodes}
            rows[present, None] = Supposition(there, entered)
            for reading in readings:
                rows[present, reading.finding] = Supposition(there, entered - {reading.finding})
    log_of = dict(zip(rows, reasoner.log_evidence_if(list(rows.values())).tolist(), strict=True))

    def surprise(present: frozenset[int], finding: int) -> float:
        possible, said = log_of[present, None], log_of[present, finding]
        if not isfinite(possible):
            return 0.0  # there is no instrument without this fault, so nothing to be surprised at
        return float(min((possible - said) / log(2), NEVER))

    def covers(present: frozenset[int], finding: int) -> tuple[int | None, float]:
        now = surprise(present, finding)
        raised = {node: surprise(present - {node}, finding) - now for node in sorted(present)}
        best = max(raised, key=raised.__getitem__, default=None)
        return (best, raised[best]) if best is not None and raised[best] >= COVERS else (None, 0.0)

    return [[covers(frozenset(s.present), r.finding) for r in readings] for s in sets]
