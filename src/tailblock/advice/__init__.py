"""Advice: from probabilities to what to look at next, what not to do yet, and how bad it is.

In: the checklist, the state of a visit, and numbers: the probability of every fault, what each
unread check would say. Out: the frozen values of `results`. How the numbers were computed is not
known here, and nothing here is worded for a page.
"""

from __future__ import annotations

from tailblock.advice.results import (
    Advice,
    Advised,
    CauseBelief,
    Grades,
    HeldBack,
    MayString,
    PartGrade,
    Reasons,
    Unsettled,
    Verdict,
    Weighed,
)

__all__ = [
    "Advice",
    "Advised",
    "CauseBelief",
    "Grades",
    "HeldBack",
    "MayString",
    "PartGrade",
    "Reasons",
    "Unsettled",
    "Verdict",
    "Weighed",
]
