"""The seven words for chances, and how a chance is written in a checklist.

The scale leans on published work on verbal probabilities: W. Mosteller and C. Youtz, "Quantifying
probabilistic expressions", Statistical Science 5(1), 1990, 2-12, shows that such words are used
consistently enough to carry numbers. The numbers of this scale are our own, from memory, and are
starting values that a shop replaces by its counts.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Annotated

from pydantic import BeforeValidator

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
        raise ValueError(f"a chance is one of {words}, or a number between 0 and 1")
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
    values = [WORDS[word] for word in LADDER]
    nearest = min(range(len(values)), key=lambda i: abs(values[i] - probability))
    return values[max(0, min(len(values) - 1, nearest + steps))]


def word_for(probability: float) -> str:
    """Return the word of the scale nearest to a probability.

    >>> word_for(0.55)
    'often'
    """
    return min(WORDS, key=lambda word: abs(WORDS[word] - probability))


Chance = Annotated[float, BeforeValidator(chance)]
