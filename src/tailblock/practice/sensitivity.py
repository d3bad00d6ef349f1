"""How much the chances of an entry matter: each moved by a word, and the vignettes tried again.

In: a checklist, vignettes, numbers of the checklist. Out: for each number and direction the
vignettes in which something else leads, the belief that moved most, and, if asked for, those in
which another check is advised next. Exact: every variant is a network of its own. All variants
whose evidence is that of one vignette are answered together; advice is worked out one by one.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.ranking import rank
from tailblock.errors import TailblockError
from tailblock.inference.batch import many_beliefs
from tailblock.inference.beliefs import Beliefs
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.network.arrays import Finding, Network, Side
from tailblock.pipeline import examine
from tailblock.practice.vignettes import leader, without_opening

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.numbers import Number
    from tailblock.network.arrays import FloatArray
    from tailblock.pipeline import Examined
    from tailblock.practice.format import Vignette

WAYS = (-1, 1)


class TooWideToTry(TailblockError):
    """The network of a vignette is past the limit of exact sums."""

    def __init__(self, vignette: Vignette) -> None:
        super().__init__(
            f"{vignette.path}: exact sums are out of reach, and a sampled belief moves by itself "
            "(`tailblock lint` names the widest part of the checklist)"
        )


@dataclass(frozen=True, slots=True)
class Flip:
    """A vignette (the name of its file) in which something changes, from what to what.

    None: nothing leads, or no check is advised.
    """

    vignette: str
    before: str | None
    after: str | None


@dataclass(slots=True)
class Moved:
    """What becomes of the vignettes if a number is moved a word, down (-1) or up (1).

    `most`: the largest change of a fault's probability in any of them, with its sign; `fault` and
    `vignette` say whose and where. `next_checks` is None if it was not asked for.
    """

    number: Number
    way: int
    words: str
    leads: list[Flip] = field(default_factory=list)
    next_checks: list[Flip] | None = None
    most: float = 0.0
    fault: str = ""
    vignette: str = ""


@dataclass(frozen=True, slots=True)
class _Variant:
    checklist: Checklist
    moved: Moved


def sensitivity(
    checklist: Checklist,
    vignettes: Sequence[Vignette],
    numbers: Sequence[Number],
    *,
    with_advice: bool = False,
) -> tuple[Moved, ...]:
    """Return what moving each number a word down and a word up would change.

    Parameters
    ----------
    with_advice
        Whether the next check is wanted, too: one examination for each number, way and vignette.

    Raises
    ------
    TooWideToTry
        A vignette's network is too wide for exact sums.
    Contradiction
        The readings of a vignette have probability zero together.
    """
    variants = list(_variants(checklist, numbers, with_advice=with_advice))
    for vignette in vignettes:
        base = examine(without_opening(checklist), vignette.inspection)
        if base.exactly is None:
            raise TooWideToTry(vignette)
        _beliefs_moved(base, base.exactly.evidence, vignette, variants)
        if with_advice:
            _advice_moved(base, vignette, variants)
    return tuple(variant.moved for variant in variants)


def _variants(
    checklist: Checklist, numbers: Sequence[Number], *, with_advice: bool
) -> Iterator[_Variant]:
    for number in numbers:
        for way in WAYS:
            moved = number.moved(checklist, way)
            if moved is not None:
                other, words = moved
                tally = Moved(number, way, words, next_checks=[] if with_advice else None)
                yield _Variant(other, tally)


def _beliefs_moved(
    base: Examined, evidence: Evidence, vignette: Vignette, variants: Sequence[_Variant]
) -> None:
    """Note in each variant what leads in this vignette now, and the belief that moved most."""
    if not variants:
        return
    traits, (visit,) = vignette.inspection.instrument.traits, vignette.inspection.visits
    skeleton = [VisitSkeleton(visit.stage, visit.day, ())]
    networks = [
        compile_network(variant.checklist, traits, skeleton).network for variant in variants
    ]
    read = list(evidence.soft)
    renumbered = Evidence(dict(enumerate(evidence.soft.values())), evidence.hard)
    many = many_beliefs(_stacked(networks, read), renumbered)
    before, was = leader(base.causes), {cause.id: cause.probability for cause in base.causes}
    for member, variant in enumerate(variants):
        now = Beliefs(many.probability[:, member], float("nan"))
        start = Beliefs(many.prior[:, member], float("nan"))
        causes = rank(variant.checklist, base.compiled, now, start)
        after = leader(causes)
        moved = variant.moved
        if after != before:
            moved.leads.append(Flip(vignette.path.stem, before, after))
        for cause in causes:
            change = cause.probability - was[cause.id]
            if abs(change) > abs(moved.most):
                moved.most, moved.fault, moved.vignette = change, cause.id, vignette.path.stem


def _advice_moved(base: Examined, vignette: Vignette, variants: Sequence[_Variant]) -> None:
    """Note in each variant whether another check is advised next in this vignette."""
    before = _next(base)
    for variant in variants:
        after = _next(examine(without_opening(variant.checklist), vignette.inspection))
        if after != before and variant.moved.next_checks is not None:
            variant.moved.next_checks.append(Flip(vignette.path.stem, before, after))


def _next(examined: Examined) -> str | None:
    advice = examined.advice.advice
    return advice[0].check if advice else None


def _stacked(networks: Sequence[Network], findings: Sequence[int]) -> Network:
    """Return networks of one shape as a batch, with these findings only, in this order."""
    first = networks[0]
    strengths = tuple(
        tuple(
            np.array([float(network.strengths[node][cause]) for network in networks])
            for cause in range(len(row))
        )
        for node, row in enumerate(first.strengths)
    )
    return Network(
        np.stack([network.alone for network in networks], axis=-1),
        first.parents,
        strengths,
        tuple(
            Finding(
                _side([network.findings[k].low for network in networks]),
                _side([network.findings[k].high for network in networks]),
            )
            for k in findings
        ),
    )


def _side(sides: Sequence[Side]) -> Side:
    def together(arrays: Sequence[FloatArray]) -> FloatArray:
        return np.stack(arrays, axis=-1)

    return Side(
        sides[0].parents,
        together([side.cumulative for side in sides]),
        together([side.leak for side in sides]),
    )
