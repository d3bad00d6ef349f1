"""Network and evidence -> beliefs, exactly.

Comes in: `Network` and `Evidence`, arrays and indexes. Goes out: posteriors of all hidden nodes,
what unread findings would say and do, posteriors with each reading left out, the most probable
joint sets of nodes, draws from the joint distribution, the probability of many sets of answers.
Knows no names, no wording and no units. May import `network` (its arrays) and what lies below.
"""

from __future__ import annotations

from tailblock.inference.beliefs import Beliefs, ImpossibleEvidence, Prediction, TooWide
from tailblock.inference.columns import Supposition
from tailblock.inference.explanations import JointSet
from tailblock.inference.outcomes import Answers, say
from tailblock.inference.reasoner import LeaveOneOut, Reasoner

__all__ = [
    "Answers",
    "Beliefs",
    "ImpossibleEvidence",
    "JointSet",
    "LeaveOneOut",
    "Prediction",
    "Reasoner",
    "Supposition",
    "TooWide",
    "say",
]
