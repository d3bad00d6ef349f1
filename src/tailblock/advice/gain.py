"""What reading a check is worth: the bits it is expected to tell, about each fault and in all.

In: what each unread finding would say and what each answer would do (from inference), and how its
gauge mixes the levels up. Out: one `Gain` a check.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import compress
from typing import TYPE_CHECKING

import numpy as np

from tailblock.advice.ranking import applying, weights

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from tailblock.inference.beliefs import Prediction
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network.arrays import FloatArray
    from tailblock.network.compile import Compiled


@dataclass(frozen=True, slots=True)
class Gain:
    """What a check would tell.

    `bits` is the sum over faults of weight times information; `about` the information on each
    fault by itself, unweighted, faults of which it tells nothing left out.
    """

    check: str
    bits: float
    about: Mapping[str, float]


# Less than this is rounding, not information.
NOTHING = 1e-9
# Nothing smaller is taken the logarithm of: 0 log 0 is 0.
_LEAST = 1e-300


def entropy(probability: FloatArray) -> FloatArray:
    """Return the entropy of yes/no questions [bits], 0 where the answer is known.

    `H(p) = -p log2 p - (1 - p) log2 (1 - p)`.

    Source: C. E. Shannon, "A Mathematical Theory of Communication", 1948, section 6.

    >>> entropy(np.array([0.0, 0.5, 1.0]))
    array([0., 1., 0.])
    """
    absent = 1.0 - probability
    bits = probability * np.log2(np.maximum(probability, _LEAST))
    bits += absent * np.log2(np.maximum(absent, _LEAST))
    return np.maximum(-bits, 0.0)


def information(
    chance: FloatArray, posterior: FloatArray, reported: FloatArray | None = None
) -> FloatArray:
    """Return the mutual information between each node and the answer as it would be reported.

    `I(F_i; X') = H(F_i) - sum over l' of P(l') H(F_i | l')`, with `P(l', F_i)` the sum over the
    true levels l of `K[l][l'] P(l) P(F_i | l)`.

    Parameters
    ----------
    chance
        The chance of each of o true levels.
    posterior
        o x n, the chance of each node given each true level.
    reported
        K, o x o, the chance that the gauge reports a level (column) where another is true (row);
        None for a check whose answer is its level.

    Returns
    -------
    n bits, none negative

    Source: T. M. Cover and J. A. Thomas, Elements of Information Theory, 2nd ed. 2006, section 2.4
    (from memory).

    >>> information(np.array([0.5, 0.5]), np.array([[0.0], [1.0]]))  # it settles the question
    array([1.])
    """
    mixed = None if reported is None else reported[None]
    bits: FloatArray = informations(chance[None], posterior[None], mixed)[0]
    return bits


def informations(
    chance: FloatArray, posterior: FloatArray, reported: FloatArray | None = None
) -> FloatArray:
    """Return the information of m checks with as many levels each: m x n bits, none negative.

    Parameters
    ----------
    chance, posterior, reported
        As for `information`, with one more axis, the first, over the checks.
    """
    joint = chance[..., None] * posterior
    if reported is not None:
        turned = reported.swapaxes(1, 2)
        chance, joint = (turned @ chance[..., None])[..., 0], turned @ joint
    level = chance[..., None]
    given = np.divide(joint, level, out=np.zeros_like(joint), where=level > 0.0).clip(0.0, 1.0)
    share = (chance / chance.sum(axis=1, keepdims=True))[:, None]
    bits = (entropy(share @ given) - share @ entropy(given))[:, 0]
    return np.where(bits > NOTHING, bits, 0.0)


def gains(
    checklist: Checklist,
    compiled: Compiled,
    predictions: Iterable[Prediction],
    reported: Mapping[str, FloatArray],
) -> Mapping[str, Gain]:
    """Return what each predicted check would tell, by its id.

    Parameters
    ----------
    predictions
        What the findings of the last visit would say.
    reported
        How the gauge of a measured check mixes up its levels (see `information`), by check id.
    """
    faults = applying(checklist, compiled)
    nodes = [compiled.node_of(id_) for id_ in faults]
    matters = np.array([weights(checklist)[id_] for id_ in faults])
    found = {}
    for alike in _by_levels(predictions):
        checks = [compiled.findings[prediction.finding].check for prediction in alike]
        sure = np.eye(len(alike[0].chance))
        table = informations(
            np.array([prediction.chance for prediction in alike]),
            np.array([prediction.posterior for prediction in alike])[:, :, nodes],
            np.array([reported.get(check, sure) for check in checks]),
        )
        for check, bits, row in zip(checks, table @ matters, table.tolist(), strict=True):
            found[check] = Gain(
                check, float(bits), dict(compress(zip(faults, row, strict=True), row))
            )
    return found


def _by_levels(predictions: Iterable[Prediction]) -> Iterable[Sequence[Prediction]]:
    """Return the predictions of checks with as many levels, together."""
    alike: dict[int, list[Prediction]] = defaultdict(list)
    for prediction in predictions:
        alike[len(prediction.chance)].append(prediction)
    return alike.values()
