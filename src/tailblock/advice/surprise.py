"""How surprising each reading is, and whether the whole visit lies outside what is known.

In: the names, a reasoner to ask, what was entered. Out: `Surprise`s, and on request `Whole`.

- One reading: -log2 P(reading | all other readings). What enters as a reading is its likelihood
  over the levels, scaled to a maximum of 1 as everywhere; so P(reading | others) is the sum over
  the levels of likelihood times P(level | others). For an answer in levels that is the chance of
  the level; for a measured value that may lie in either of two levels it is the chance of the
  better one and a share of the other.
- All readings: the share of instruments, drawn from the same network without any reading and asked
  the same checks, whose readings are no likelier together than these. There every reading counts
  as the level that it fits best, since a drawn instrument answers in levels too. Each probability
  is exact; the share is a Monte Carlo p-value. It need not be precise where it is large, so that
  a tenth of the instruments is weighed first, as in sequential tests (J. Besag and P. Clifford,
  "Sequential Monte Carlo p-values", 1991, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference import Answers, Supposition, TooWide, say

if TYPE_CHECKING:
    from tailblock.inference import Reasoner
    from tailblock.knowledge.entries import Scales
    from tailblock.network.compile import Compiled

SAMPLED = 999  # instruments: one share is then a thousandth
FIRST = 99  # so many are weighed first: where enough of them are no likelier, it is decided
LIMIT = 1 << 18  # table cells for one instrument; all of them then take some seconds
SEED = 999  # the same report on any day and any machine
_ROUNDING = 1e-9


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


def whole(reasoner: Reasoner, limits: Scales, *, seed: int = SEED) -> Whole | None:
    """Return where the readings stand among those of drawn instruments.

    What would be said of all 999 is said: if the first 99 hold as many that are no likelier as the
    limit asks of all, the others cannot change that, and only the share is less precise.

    Parameters
    ----------
    reasoner
        Its network is drawn from, without its evidence; what was confirmed counts for neither side.

    Returns
    -------
    None if nothing was read, or if exact probabilities of all these answers are out of reach
    """
    asked = list(reasoner.evidence.soft)
    if not asked:
        return None
    try:
        answers = Answers(reasoner.network, asked, LIMIT)
    except TooWide:
        return None
    dice = np.random.default_rng(seed)
    states = reasoner.draw(SAMPLED, dice, evidence=False)
    theirs = say(reasoner.network, asked, states, dice)
    best = [[int(np.argmax(row)) for row in reasoner.evidence.soft.values()]]
    # equal answers may differ in their last digits, so they count as equal from there on
    ours = float(answers.log_probability(np.array(best))[0]) + _ROUNDING
    unlikely = int((answers.log_probability(theirs[:FIRST]) <= ours).sum())
    if unlikely >= limits.outside * SAMPLED:
        return Whole(unlikely / FIRST, FIRST, outside=False)
    unlikely += int((answers.log_probability(theirs[FIRST:]) <= ours).sum())
    share = unlikely / SAMPLED
    return Whole(share, SAMPLED, share < limits.outside)
