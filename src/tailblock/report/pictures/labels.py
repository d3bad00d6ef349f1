"""Room for text in a picture: how long it gets, and how labels in a row keep clear of each other.

In: texts, sizes, places. Out: widths and places [px]. Nobody knows which letters a reader's browser
has, so widths are those of a wide face: what fits here fits there.
"""

from __future__ import annotations

_WIDE = 0.64  # em: a digit of a wide sans serif face
_NARROW = dict.fromkeys(" \xa0.,:;'|()/iljI-", 0.35)


def letters(text: str, size: float) -> float:
    """Return the width of a line of text, rather too much than too little.

    Parameters
    ----------
    size
        Of the letters [px].
    """
    return size * sum(_NARROW.get(sign, _WIDE) for sign in text)
