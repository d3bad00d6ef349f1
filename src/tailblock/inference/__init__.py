"""Network and evidence -> beliefs, exactly; by sampling only where that is out of reach.

Comes in: `Network` and `Evidence`, arrays and indexes. Goes out: posteriors of all hidden nodes,
what unread findings would say and do, posteriors with each reading left out. Knows no names, no
wording and no units. May import `network` (its arrays) and what lies below.
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
from tailblock.inference.sampling import Sampler

__all__ = [
    "Beliefs",
    "ImpossibleEvidence",
    "LeaveOneOut",
    "Prediction",
    "Reasoner",
    "Sampler",
    "TooWide",
]
