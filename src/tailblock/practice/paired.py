"""What two ways of working differ by on the same instruments.

In: a figure of each instrument, done in one way and in the other. Out: `Difference`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class Difference:
    """A mean difference over the same instruments with the ends of its 95 % interval."""

    mean: float
    low: float
    high: float


def difference(ours: Sequence[float], theirs: Sequence[float]) -> Difference:
    """Return the mean of ours less theirs, pair by pair, with mean +- 1.96 standard errors.

    >>> difference([1.0, 2.0, 3.0], [2.0, 3.0, 4.0])
    Difference(mean=-1.0, low=-1.0, high=-1.0)
    """
    pairs = np.array(ours) - np.array(theirs)
    error = float(pairs.std(ddof=1)) / np.sqrt(len(pairs)) if len(pairs) > 1 else inf
    middle = float(pairs.mean())
    return Difference(middle, float(middle - 1.96 * error), float(middle + 1.96 * error))
