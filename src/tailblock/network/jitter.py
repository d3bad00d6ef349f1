"""Networks whose chances are all a little off, as far as the checklist's words leave open.

In: a `Network`, the findings that matter, a random generator. Out: a batch of networks of the same
shape. Every chance is shifted in log-odds by a uniform draw between its word's margins
(`knowledge.words.margins`): half way to the next word on either side. Noise on the log-odds is what
studies of imprecise numbers in diagnosis networks use (M. Pradhan et al., Artificial Intelligence
85, 1996; M. Henrion et al., UAI 1996: both read as abstracts), theirs normal, ours bounded since a
word is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge.words import margins
from tailblock.network.arrays import Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tailblock.network.arrays import FloatArray


def jittered(
    network: Network, findings: Sequence[int], dice: np.random.Generator, members: int
) -> Network:
    """Return a batch of networks; their findings are those asked for, in that order.

    The chances of one link for its levels are shifted together, so that "at least" stays ordered.
    Chances of 0 and 1 say what cannot be otherwise, and stay.

    Parameters
    ----------
    members
        How many networks.
    """
    own = [float(chance) for row in network.strengths for chance in row]
    hidden = _shifted(np.array([*network.alone, *own])[:, None], dice, members)[:, 0]
    nodes = len(network)
    strengths = iter(hidden[nodes:])
    return Network(
        hidden[:nodes],
        network.parents,
        tuple(tuple(next(strengths) for _ in row) for row in network.strengths),
        tuple(
            Finding(*(_side(side, dice, members) for side in (finding.low, finding.high)))
            for finding in (network.findings[k] for k in findings)
        ),
    )


def _side(side: Side, dice: np.random.Generator, members: int) -> Side:
    at_most = _shifted(
        1.0 - np.vstack([side.cumulative[:, :-1], side.leak[None, :-1]]), dice, members
    )
    # what is nearly the same may have changed places
    at_most = 1.0 - np.minimum.accumulate(at_most, axis=1)
    ends = np.ones((len(at_most), 1, members))
    whole = np.concatenate([at_most, ends], axis=1)
    return Side(side.parents, whole[:-1], whole[-1])


def _shifted(chance: FloatArray, dice: np.random.Generator, members: int) -> FloatArray:
    """Return links x levels x members: the chances (links x levels), each link with one draw."""
    down, up = margins(chance)
    draw = dice.uniform(-1.0, 1.0, (len(chance), 1, members))
    offset = np.where(draw < 0.0, -down[..., None], up[..., None]) * draw
    with np.errstate(divide="ignore", over="ignore"):
        odds = (chance / (1.0 - chance))[..., None] * np.exp(offset)
        shifted: FloatArray = np.where(np.isinf(odds), 1.0, odds / (1.0 + odds))
    return shifted
