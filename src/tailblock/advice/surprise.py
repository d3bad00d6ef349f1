"""How surprising each reading is, and whether the whole visit lies outside what is known.

In: the names, a reasoner to ask, what was entered. Out: `Surprise`s, and on request `Whole`.

- One reading: -log2 P(reading | all other readings). What enters as a reading is its likelihood
  over the levels, scaled to a maximum of 1 as everywhere; so P(reading | others) is the sum over
  the levels of likelihood times P(level | others). For an answer in levels that is the chance of
  the level; for a measured value that may lie in either of two levels it is the chance of the
  better one and a share of the other.
- All readings: the share of instruments, drawn from the same network without any reading and asked
  the same checks, whose readings are no likelier together than these. There every reading counts
  as the level that it fits best, since a drawn instrument answers in levels too. This is a
  Monte Carlo p-value in its plain form; each probability in it is exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference import Answers, Supposition, say

if TYPE_CHECKING:
    from tailblock.inference import Reasoner
    from tailblock.knowledge.entries import Scales
    from tailblock.network.compile import Compiled

SAMPLED = 999  # instruments: one share is then a thousandth
SEED = 999  # the same report on any day and any machine


@dataclass(frozen=True, slots=True)
class Surprise:
    """How surprising a reading is given all others [bits]; `named` if it is past the limit."""

    check: str
    visit: int
    bits: float
    named: bool


@dataclass(frozen=True, slots=True)
class Whole:
    """How the readings stand among those of instruments drawn from the checklist.

    `share` of `sampled` instruments have readings that are no likelier than these; `outside` if
    that is below the limit: the checklist knows no such instrument.
    """

    share: float
    sampled: int
    outside: bool


def surprises(compiled: Compiled, reasoner: Reasoner, limits: Scales) -> tuple[Surprise, ...]:
    """Return the surprise of every reading of all visits, the most surprising first.

    The evidence must be possible.
    """
    entered = tuple(reasoner.evidence.soft)
    suppositions = [Supposition(), *(Supposition(left_out=(k,)) for k in entered)]
    with_all, *without = reasoner.log_evidence_if(suppositions).tolist()
    found = []
    for k, log_rest in zip(entered, without, strict=True):
        name = compiled.findings[k]
        bits = max((log_rest - with_all) / log(2), 0.0)  # below 0 only by rounding
        found.append(Surprise(name.check, name.visit, bits, bits > limits.surprise_bits))
    return tuple(sorted(found, key=lambda one: -one.bits))


def whole(reasoner: Reasoner, limits: Scales, *, sampled: int = SAMPLED, seed: int = SEED) -> Whole:
    """Return where the readings stand among those of `sampled` drawn instruments.

    Parameters
    ----------
    reasoner
        Its network is drawn from, without its evidence; what was confirmed counts for neither side.

    Raises
    ------
    TooWide
        The probabilities of sharp answers to all these checks are out of reach.
    """
    dice = np.random.default_rng(seed)
    asked = list(reasoner.evidence.soft)
    if not asked:
        return Whole(1.0, sampled, outside=False)
    ours = [int(np.argmax(row)) for row in reasoner.evidence.soft.values()]
    states = reasoner.draw(sampled, dice, evidence=False)
    theirs = say(reasoner.network, asked, states, dice)
    answers = Answers(reasoner.network, asked)
    here, *drawn = answers.log_probability(np.vstack([ours, theirs]))
    # equal answers may differ in the last digits, having come up the tree in different blocks
    share = float(np.mean(np.array(drawn) <= here + 1e-9))
    return Whole(share, sampled, share < limits.outside)
