"""Room for text in a picture: how long it gets, and how labels in a row keep clear of each other.

In: texts, sizes, places. Out: widths and places [px]. Nobody knows which letters a reader's browser
has, so widths are those of a wide face: what fits here fits there.
"""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_WIDE = 0.64  # em: a digit of a wide sans serif face
_BOLD = 1.12  # times as wide
_NARROW = dict.fromkeys(" \xa0.,:;'|()/iljI-", 0.35)


def letters(text: str, size: float, *, bold: bool = False) -> float:
    """Return the width of a line of text, rather too much than too little.

    Parameters
    ----------
    size
        Of the letters [px].
    """
    width = size * sum(_NARROW.get(sign, _WIDE) for sign in text)
    return _BOLD * width if bold else width


def side_by_side(wishes: Sequence[float], sizes: Sequence[float]) -> list[float]:
    """Return where things of these sizes begin so that none meets the next, near their wishes.

    Those that would meet stand together, at the mean of what they wish.

    >>> side_by_side([0, 10, 11], [5, 5, 5])
    [0.0, 8.0, 13.0]
    """
    blocks: list[tuple[int, float, float]] = []  # how many things, mean wished start, size
    for wish, size in zip(wishes, sizes, strict=True):
        count, start, whole = 1, wish, size
        while blocks and blocks[-1][1] + blocks[-1][2] > start:
            others, before, taken = blocks.pop()
            mean = (before * others + (start - taken) * count) / (others + count)
            count, start, whole = others + count, mean, taken + whole
        blocks.append((count, start, whole))
    starts: list[float] = []
    for count, start, _ in blocks:
        own = sizes[len(starts) : len(starts) + count]
        starts += [start + before for before in accumulate([0.0, *own[:-1]])]
    return starts


def spread(
    middles: Sequence[float], sizes: Sequence[float], low: float, high: float
) -> list[float] | None:
    """Return the middles of labels in a row from `low` to `high`, each near the one it wishes.

    None if there is no room for all of them.

    >>> spread([0, 50, 52], [20, 20, 20], 0, 100)
    [10.0, 41.0, 61.0]
    >>> spread([5, 6], [60, 60], 0, 100) is None
    True
    """
    if sum(sizes) > high - low:
        return None
    halves = [size / 2 for size in sizes]
    starts = side_by_side([at - half for at, half in zip(middles, halves, strict=True)], sizes)
    before = accumulate([0.0, *sizes[:-1]])
    starts = [max(start, low + taken) for start, taken in zip(starts, before, strict=True)]
    after = list(accumulate(reversed(sizes)))[::-1]
    starts = [min(start, high - taken) for start, taken in zip(starts, after, strict=True)]
    return [start + half for start, half in zip(starts, halves, strict=True)]
