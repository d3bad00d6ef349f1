"""What inference hands out: probabilities by index, exact."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Beliefs:
    """Posterior of every hidden node.

    `probability`: n numbers in [0, 1]. `log_evidence`: natural logarithm of the probability of the
    evidence (likelihoods as given, scaled to a maximum of 1).
    """

    probability: FloatArray
    log_evidence: float


@dataclass(frozen=True, slots=True)
class Prediction:
    """What an unread finding would say, and what each answer would do.

    `chance`: one number an outcome. `posterior`: outcomes x n, P(node | evidence, outcome); rows of
    outcomes with a chance under 1e-12 repeat the present posterior, since nothing can be said
    there.
    """

    finding: int
    chance: FloatArray
    posterior: FloatArray


class ImpossibleEvidence(TailblockError):
    """The evidence has probability zero; names the indexes of what contradicts each other."""

    def __init__(self, findings: tuple[int, ...], nodes: tuple[int, ...]) -> None:
        self.findings = findings
        self.nodes = nodes
        super().__init__(
            "these readings contradict each other: nothing in the checklist explains all"
        )


class TooWide(TailblockError):
    """Exact inference would need tables beyond the limit; known before anything runs."""

    def __init__(self, cells: int, limit: int) -> None:
        self.cells = cells
        self.limit = limit
        super().__init__(
            f"exact inference would need {cells:,} table cells, over the limit of {limit:,}: "
            "`tailblock lint` names the widest part of the checklist"
        )
