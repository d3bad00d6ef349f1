"""Advice: from probabilities to what to look at next, what not to do yet, and how bad it is.

In: the checklist, the state of a visit, and numbers: the probability of every fault, what each
unread check would say. Out: the frozen values of `results`, which are the names below. How the
numbers were computed is not known here, and nothing but a reason or a rule is worded. May import:
`inference` (its values), `network` (names and shape), `inspection`, `knowledge`, `measures`.

The order of the work: `situation` and `candidates` (what could be read), `gain` (what it would
tell), `ranking`, `held_back`, `settling`, `bundles`, `order` and `next_check`; `rules` and
`grades`; `verdict`; `reasons`; `explanations` and `surprise`; `steadiness`. `by_cost` orders
decisive tests where one fault is there.
"""

from __future__ import annotations

from tailblock.advice.results import (
    Advice,
    Advised,
    AdvisedBundle,
    CauseBelief,
    Grades,
    HeldBack,
    MayString,
    PartGrade,
    Reasons,
    Settling,
    Steadiness,
    Swing,
    Unsettled,
    Verdict,
    Weighed,
)

__all__ = [
    "Advice",
    "Advised",
    "AdvisedBundle",
    "CauseBelief",
    "Grades",
    "HeldBack",
    "MayString",
    "PartGrade",
    "Reasons",
    "Settling",
    "Steadiness",
    "Swing",
    "Unsettled",
    "Verdict",
    "Weighed",
]
