"""The hours of a plan as a distribution: exact moments, simulated quantiles, what would narrow it.

In: pieces of work and the faults that they serve, the checklist, the `Jobs` of an inspection. Out:
`WorkHours`, or only the `Promise` of so many hours. Whether a fault is there is drawn jointly, from
the network alone; what the trade says a remedy may reveal only says where to look (`may_reveal`).
The length of each piece of work is a three-point estimate, independent of all else (see
`measures.three_point`). What work may leave behind is no part of it, and waiting takes no bench
hours.

The order of the work: `called` (which work when), `jobs` (whom to ask), `chances` (how probable),
`simulated` (quantiles), `worth` (what to know first).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.hours.called import Piece, Rules, rules_of
from tailblock.advice.hours.chances import chances, done
from tailblock.advice.hours.jobs import Jobs
from tailblock.advice.hours.results import (
    Contributor,
    PieceHours,
    Promise,
    Quantile,
    WorkHours,
    Worth,
)
from tailblock.advice.hours.simulated import histogram, hours_drawn, needed, quantile
from tailblock.advice.hours.worth import told_by_faults, told_by_finding, told_in_draws
from tailblock.measures.three_point import three_point_mean, three_point_variance

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tailblock.advice.hours.simulated import Bools
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Hours
    from tailblock.network.arrays import FloatArray

__all__ = [
    "Contributor",
    "Jobs",
    "Piece",
    "PieceHours",
    "Promise",
    "Quantile",
    "Unread",
    "WorkHours",
    "Worth",
    "hours_of",
    "promise_of",
]

SHARES = (0.5, 0.8, 0.95)  # of the jobs, for which so many hours are enough
SCREENED = 4_000  # jobs by which the checks are chosen that are then worked out exactly
CHOSEN = 4  # so many of them
NAMED = 5  # so much is said to be worth knowing
_LEAST_WORTH = 0.03  # of the standard deviation: to know less than this narrows nothing


@dataclass(frozen=True, slots=True)
class Unread:
    """A check that could be read before a price is promised, and its minutes with the way there."""

    check: str
    minutes: float


def hours_of(
    pieces: Iterable[Piece],
    checklist: Checklist,
    traits: Mapping[str, str],
    jobs: Jobs,
    *,
    unread: Sequence[Unread] = (),
    reported: Mapping[str, FloatArray] = MappingProxyType({}),
) -> WorkHours:
    """Return the hours of a plan.

    Parameters
    ----------
    pieces
        The plan, in working order.
    traits
        What is known of the instrument.
    unread
        The checks that could be read first.
    reported
        For measured checks among them how their gauge mixes up its levels.

    Raises
    ------
    KeyError
        The checklist has no such remedy.
    """
    plan = _Work.of(pieces, checklist, traits, jobs)
    rules, means = plan.rules, plan.means
    variances = np.array([three_point_variance(h.low, h.likely, h.high) for h in plan.known])
    found = chances(rules.terms, jobs.ask)
    length = found.done * variances
    need = ((found.both - np.outer(found.done, found.done)) @ means) * means
    variance = max(float((length + need).sum()), 0.0)
    dice = jobs.dice()
    needs = plan.needed()
    ordered = np.sort(hours_drawn(needs, plan.known, dice))
    edges, counts = histogram(ordered)

    def checks() -> list[Worth]:
        compiled = jobs.compiled
        last = len(compiled.current) - 1
        findings = [compiled.finding_of(entry.check, last) for entry in unread]
        asked = [(e, k) for e, k in zip(unread, findings, strict=True) if k is not None]
        told = told_in_draws(
            (needs @ means)[:SCREENED],
            jobs.states[:SCREENED],
            compiled.network,
            [k for _, k in asked],
            dice,
        )
        best = [asked[at] for at in np.argsort(-told, kind="stable")[:CHOSEN]]
        return [
            Worth("check", entry.check, left(exact), entry.minutes)
            for entry, k in best
            for exact in [
                told_by_finding(rules.terms, means, jobs, k, reported=reported.get(entry.check))
            ]
        ]

    def left(told: float) -> float:
        return sqrt(max(variance - told, 0.0))

    worth: list[Worth] = []
    if variance:
        stops = (
            Worth(
                "stop-point", id_, left(told_by_faults(rules.terms, means, jobs.ask, faults)), None
            )
            for id_, faults in _stop_points(rules, checklist).items()
        )
        worth = sorted((*checks(), *stops), key=lambda entry: entry.sd_left)
    return WorkHours(
        pieces=plan.pieces(found.done, checklist),
        mean=float(found.done @ means),
        sd=sqrt(variance),
        quantiles=_enough(ordered),
        edges=edges,
        counts=counts,
        drawn=jobs.drawn,
        contributors=_contributors(rules, length, need, variance),
        worth=tuple(
            entry for entry in worth if entry.sd_left <= (1 - _LEAST_WORTH) * sqrt(variance)
        )[:NAMED],
    )


def promise_of(
    pieces: Iterable[Piece], checklist: Checklist, traits: Mapping[str, str], jobs: Jobs
) -> Promise:
    """Return how many hours of a plan are enough, and how probable each piece of its work is.

    The same as `hours_of` says, which takes several times as long.

    Raises
    ------
    KeyError
        The checklist has no such remedy.
    """
    plan = _Work.of(pieces, checklist, traits, jobs)
    ordered = np.sort(hours_drawn(plan.needed(), plan.known, jobs.dice()))
    return Promise(plan.pieces(done(plan.rules.terms, jobs.ask), checklist), _enough(ordered))


@dataclass(frozen=True, slots=True)
class _Work:
    """When each piece of work of a plan is done, the hours that it then takes, and their means."""

    rules: Rules
    known: Sequence[Hours]
    means: FloatArray
    jobs: Jobs

    @classmethod
    def of(
        cls,
        pieces: Iterable[Piece],
        checklist: Checklist,
        traits: Mapping[str, str],
        jobs: Jobs,
    ) -> _Work:
        rules = rules_of(pieces, checklist, traits, jobs.compiled.current[-1])
        known = [checklist.remedies[remedy].hours for remedy in rules.terms]
        means = np.array([three_point_mean(h.low, h.likely, h.high) for h in known])
        return cls(rules, known, means, jobs)

    def needed(self) -> Bools:
        """Return which work each job needs."""
        there = {fault: self.jobs.there(fault) for fault in self.rules.faults}
        return needed(self.rules.terms, there, self.jobs.drawn)

    def pieces(self, chance: FloatArray, checklist: Checklist) -> tuple[PieceHours, ...]:
        """Return the pieces of work with their chances."""
        rules = self.rules
        return tuple(
            PieceHours(
                remedy=remedy,
                chance=min(max(chance, 0.0), 1.0),
                low=checklist.remedies[remedy].hours.low,
                likely=checklist.remedies[remedy].hours.likely,
                high=checklist.remedies[remedy].hours.high,
                mean=mean,
                planned=remedy in rules.planned,
                revealed_by=rules.revealed_by.get(remedy, ()),
            )
            for remedy, chance, mean in zip(
                rules.terms, chance.tolist(), self.means.tolist(), strict=True
            )
        )


def _enough(ordered: FloatArray) -> tuple[Quantile, ...]:
    return tuple(quantile(ordered, share) for share in SHARES)


def _contributors(
    rules: Rules, length: FloatArray, need: FloatArray, variance: float
) -> tuple[Contributor, ...]:
    """Return the shares of the variance, the largest first; none if there is no variance."""
    if variance == 0.0:
        return ()
    shares = (
        Contributor(remedy, one / variance, other / variance)
        for remedy, one, other in zip(rules.terms, length.tolist(), need.tolist(), strict=True)
    )
    return tuple(sorted(shares, key=lambda entry: -entry.share))


def _stop_points(rules: Rules, checklist: Checklist) -> Mapping[str, tuple[str, ...]]:
    """Return the planned stop points, and the faults that are known once each is reached.

    Those that it may reveal and those that it serves, as far as they decide about work.
    """
    decide = set(rules.faults)
    found = {}
    for id_ in rules.terms:
        remedy = checklist.remedies[id_]
        if id_ not in rules.planned or not remedy.stop_point:
            continue
        known = (*(r.fault for r in remedy.may_reveal), *(fix.fault for fix in remedy.fixes))
        faults = tuple(fault for fault in dict.fromkeys(known) if fault in decide)
        if faults:
            found[id_] = faults
    return found
