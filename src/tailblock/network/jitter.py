"""Networks whose chances are all a little off, as far as the checklist's words leave open.

In: a `Network`, the findings that matter, a random generator. Out: a batch of networks of the same
shape. Every chance is shifted in log-odds by a uniform draw between its word's margins
(`knowledge.words.margins`): half way to the next word on either side. Noise on the log-odds is what
studies of imprecise numbers in diagnosis networks use (M. Pradhan et al., Artificial Intelligence
85, 1996; M. Henrion et al., UAI 1996: both read as abstracts), theirs normal, ours bounded since a
word is.
"""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

import numpy as np

from tailblock.knowledge.words import margins
from tailblock.network.arrays import Finding, Network, Side

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

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
    sides = [side for k in findings for side in (network.findings[k].low, network.findings[k].high)]
    moved = iter(_sides(sides, dice, members))
    return Network(
        hidden[:nodes],
        network.parents,
        tuple(tuple(next(strengths) for _ in row) for row in network.strengths),
        tuple(Finding(next(moved), next(moved)) for _ in findings),
    )


def _sides(sides: Sequence[Side], dice: np.random.Generator, members: int) -> Iterator[Side]:
    """Yield the sides as they are in each member; all links are drawn for at once."""
    levels = max((side.top for side in sides), default=0)
    at_least = np.zeros((sum(len(side.parents) + 1 for side in sides), levels))
    ends = list(accumulate((len(side.parents) + 1 for side in sides), initial=0))
    for side, (start, stop) in zip(sides, pairwise(ends), strict=True):
        at_least[start : stop - 1, : side.top] = 1.0 - side.cumulative[:, :-1]
        at_least[stop - 1, : side.top] = 1.0 - side.leak[:-1]
    at_most = np.ones((len(at_least), levels + 1, members))
    # what is nearly the same may have changed places
    at_most[:, :-1] -= np.minimum.accumulate(_shifted(at_least, dice, members), axis=1)
    for side, (start, stop) in zip(sides, pairwise(ends), strict=True):
        whole = at_most[start:stop, : side.top + 1]
        yield Side(side.parents, whole[:-1], whole[-1])


def _shifted(chance: FloatArray, dice: np.random.Generator, members: int) -> FloatArray:
    """Return links x levels x members: the chances (links x levels), each link with one draw."""
    down, up = margins(chance)
    draw = dice.uniform(-1.0, 1.0, (len(chance), 1, members))
    offset = np.where(draw < 0.0, -down[..., None], up[..., None]) * draw
    with np.errstate(divide="ignore"):
        odds_against = ((1.0 - chance) / chance)[..., None] * np.exp(-offset)
    shifted: FloatArray = 1.0 / (1.0 + odds_against)
    return shifted
