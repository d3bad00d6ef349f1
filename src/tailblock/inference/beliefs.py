"""What inference hands out: probabilities by index, exact unless they say that they are not."""

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
    evidence (likelihoods as given, scaled to a maximum of 1), NaN if it is not known. `error`: None
    if the probabilities are exact; otherwise by how much any of them may be off (see `gibbs`).
    """

    probability: FloatArray
    log_evidence: float
    error: float | None = None

    @property
    def approximate(self) -> bool:
        """Return whether the probabilities are sampled, with an `error`."""
        return self.error is not None


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


@dataclass(frozen=True, slots=True)
class LeaveOneOut:
    """`probability[r]` is the posterior of all nodes without the evidence of `findings[r]`."""

    findings: tuple[int, ...]
    probability: FloatArray


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
