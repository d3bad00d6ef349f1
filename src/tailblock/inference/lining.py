"""How a table over some variables lines up with one over more of them.

In: which of a table's axes a smaller one has. Out: a `Fit`, by which the one is reshaped to be
multiplied into the other, or summed down to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.network.arrays import FloatArray


@dataclass(frozen=True, slots=True)
class Fit:
    """How a table over some of a bag's variables lines up with the bag's own table.

    `whole` is the bag's shape with neighbouring axes of one kind taken together, `part` the same
    with 1 where the smaller table has no axis, `missing` those axes.
    """

    whole: tuple[int, ...]
    part: tuple[int, ...]
    missing: tuple[int, ...]


# An empty separator in the root, which has no variables.
OPEN = Fit((1,), (1,), (0,))


def fit(variables: Sequence[int], scope: Sequence[int]) -> Fit:
    """Return how a table over `scope` (in the same order) lines up with one over `variables`."""
    inside = set(scope)
    return _fit(tuple(variable in inside for variable in variables))


@cache
def _fit(held: tuple[bool, ...]) -> Fit:
    """Return how a table lines up with one that has other axes as well, by which it holds."""
    whole: list[int] = []
    part: list[int] = []
    kinds: list[bool] = []
    for kind in held:
        if kinds and kinds[-1] == kind:
            whole[-1] *= 2
        else:
            whole.append(2)
            kinds.append(kind)
        part[len(kinds) - 1 :] = [whole[-1] if kind else 1]
    return Fit(tuple(whole), tuple(part), tuple(i for i, kind in enumerate(kinds) if not kind))


@lru_cache(maxsize=512)  # wide bags make large ones
def there(variables: int, axes: tuple[int, ...]) -> FloatArray:
    """Return axes x cells: 1 where the variable on that axis of a table is there, else 0."""
    cells = np.arange(1 << variables)
    return np.array([cells >> (variables - 1 - axis) & 1 for axis in axes], dtype=float).reshape(
        len(axes), len(cells)
    )
