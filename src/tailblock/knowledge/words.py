"""The seven words for chances, and how a chance is written in a checklist.

The scale leans on two published ones: S. Kent, "Words of estimative probability", Studies in
Intelligence 8 (1964), whose "almost certain" (0.87 to 0.99), "probable" (0.63 to 0.87), "probably
not" (0.20 to 0.40) and "almost certainly not" (0.02 to 0.12) hold 0.95, 0.80, 0.30 and 0.10; and
the guidance for the fifth assessment report of the IPCC (M. D. Mastrandrea et al., 2010), whose
"extremely" and "exceptionally unlikely" (up to 0.05 and 0.01) hold the two rarest. Which number
stands for which word is our own choice; a shop replaces them by its counts.
"""

from __future__ import annotations

from math import log
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Literal

import numpy as np
from pydantic import BeforeValidator, Field

if TYPE_CHECKING:
    import numpy.typing as npt

    FloatArray = npt.NDArray[np.float64]

WORDS = MappingProxyType(
    {
        "almost-always": 0.95,
        "usually": 0.80,
        "often": 0.60,
        "sometimes": 0.30,
        "seldom": 0.10,
        "rarely": 0.03,
        "very-rarely": 0.01,
    }
)

# From the least to the most likely: `shift: 1` moves one step up this ladder.
LADDER: tuple[str, ...] = tuple(reversed(WORDS))


def chance(written: object) -> float:
    """Return the probability for a word of the scale or a bare number in (0, 1).

    Raises
    ------
    ValueError
        The text is neither; the message lists the words.

    >>> chance("often")
    0.6
    >>> chance(0.25)
    0.25
    """
    if isinstance(written, str) and written in WORDS:
        return WORDS[written]
    try:
        value = float(written) if not isinstance(written, bool) else None  # type: ignore[arg-type]
    except (TypeError, ValueError):
        value = None
    if value is None or not 0.0 < value < 1.0:
        words = ", ".join(WORDS)
        raise ValueError(f"`{written}` is no chance: say {words}, or a number between 0 and 1")
    return value


def shift(probability: float, steps: int) -> float:
    """Move a probability `steps` words up (or down) the ladder, staying on it.

    A bare number is first taken to the nearest word in log-odds order.

    >>> shift(0.10, 1)
    0.3
    >>> shift(0.95, 2)
    0.95
    """
    if steps == 0:
        return probability
    step = LADDER.index(word_for(probability)) + steps
    return WORDS[LADDER[max(0, min(len(LADDER) - 1, step))]]


def word_for(probability: float) -> str:
    """Return the word of the scale nearest to a probability in (0, 1), by log-odds.

    >>> word_for(0.55), word_for(0.06)
    ('often', 'seldom')
    """
    return min(WORDS, key=lambda word: abs(_log_odds(WORDS[word]) - _log_odds(probability)))


def margins(probability: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return how far down and up in log-odds a chance may be off before another word would do.

    A word reaches half way to its neighbours, the outermost ones as far outward as inward; a bare
    number has the margins of the word that is nearest to it. Same shape as given, natural
    logarithms, the first not positive and the second not negative.

    >>> down, up = margins(np.array([0.30]))
    >>> round(float(down[0]), 2), round(float(up[0]), 2)  # ln(0.30/0.70) = -0.85; -2.20 and 0.41
    (-0.67, 0.63)
    """
    ladder = np.array([_log_odds(WORDS[word]) for word in LADDER])
    half = np.diff(ladder) / 2
    between = ladder[:-1] + half
    with np.errstate(divide="ignore"):
        at = np.searchsorted(between, np.log(probability) - np.log1p(-probability))
    return -np.append(half[0], half)[at], np.append(half, half[-1])[at]


def stands_above(chance: float, limit: float) -> bool:
    """Return whether a chance is above a limit: at it, whatever the last digit, is not above.

    >>> stands_above(0.1, 0.1), stands_above(0.1 + 1e-16, 0.1), stands_above(0.11, 0.1)
    (False, False, True)
    """
    return chance > limit + 1e-9


def _log_odds(probability: float) -> float:
    return log(probability / (1.0 - probability))


Word = Literal[
    "almost-always", "usually", "often", "sometimes", "seldom", "rarely", "very-rarely"
]  # fmt: skip
_Written = Word | Annotated[float, Field(gt=0, lt=1)]
Chance = Annotated[float, BeforeValidator(chance, json_schema_input_type=_Written)]
