"""Exact draws from the joint distribution that a calibrated tree holds.

In: a calibrated tree, a generator of random numbers. Out: states of its variables. The root is
drawn from its table, then each bag's residual given its separator, which is drawn already; all
draws at once. The draws are independent of each other, and nothing is approximate but their
number.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from tailblock.inference.propagate import Calibrated

States = npt.NDArray[np.bool_]

# Random numbers have so many binary digits, so that each can be added to the number of a
# separator's state (below 2^13) without being rounded up to the next one.
_DIGITS = 40


def draw(
    calibrated: Calibrated, variables: int, count: int, generator: np.random.Generator
) -> States:
    """Return `count` joint states of the first `variables` variables, one a row.

    Parameters
    ----------
    calibrated
        A tree with beliefs, its evidence being possible.
    """
    bags = calibrated.forest.bags
    state = np.zeros((len(calibrated.forest.home), count), dtype=np.bool_)
    for b in reversed(range(len(bags))):
        bag = bags[b]
        given = np.zeros(count, dtype=np.int64)
        for variable in bag.variables[bag.residual :]:
            given = given << 1 | state[variable]
        # P(this residual state or an earlier one | separator), one row a state of the separator,
        # each row one higher than the row before: end to end they are one sorted list.
        sums = calibrated.beliefs[b].reshape(1 << bag.residual, -1).cumsum(axis=0).T
        whole = sums[:, -1:]
        share = np.divide(sums, whole, out=np.ones_like(sums), where=whole > 0.0)
        stairs = (share + np.arange(len(share))[:, None]).reshape(-1)
        chance = generator.integers(0, 1 << _DIGITS, count) / (1 << _DIGITS)
        residual = np.searchsorted(stairs, given + chance, side="right") - (given << bag.residual)
        for axis, variable in enumerate(bag.variables[: bag.residual]):
            state[variable] = residual >> (bag.residual - 1 - axis) & 1
    return state[:variables].T
