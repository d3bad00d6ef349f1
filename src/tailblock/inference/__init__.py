"""Network and evidence -> beliefs, exactly; by sampling only where that is out of reach.

Comes in: `Network` and `Evidence`, arrays and indexes. Goes out: posteriors of all hidden nodes,
what unread findings would say and do, posteriors with each reading left out, the most probable
joint sets of nodes, draws from the joint distribution, the probability of many sets of answers.
Knows no names, no wording and no units. May import `network` (its arrays) and what lies below.

What only an explanation needs is imported from its own module: `columns`, `explanations`,
`outcomes`, `sampling`, `batch`; and `gibbs`, past the limit of exact sums. A cold `next` needs
none of it.
"""

from __future__ import annotations

from tailblock.inference.beliefs import (
    Beliefs,
    ImpossibleEvidence,
    LeaveOneOut,
    Prediction,
    TooWide,
)
from tailblock.inference.reasoner import Reasoner

__all__ = [
    "Beliefs",
    "ImpossibleEvidence",
    "LeaveOneOut",
    "Prediction",
    "Reasoner",
    "TooWide",
]
