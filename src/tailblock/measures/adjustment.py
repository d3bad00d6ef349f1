"""The least change to some values that makes them meet the relations between them.

In: values with standard uncertainties by name, each name in one unit; relations that are zero where
their arguments agree. Out: one fit: adjusted values, how far each was moved, and how much of an
error in each would show.

Method: weighted least squares under constraints (data reconciliation), relations linearised again
at each step (Gauss-Newton); a quantity that was not read is eliminated by projection. From memory,
as texts on the adjustment of observations have it; the tests check it against two general-purpose
libraries. Propagation of uncertainty: JCGM 100:2008, 5.1.2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

ROUNDING = 1e-7  # shares below this are rounding
_PASSES = 50  # bench relations need three; one that needs more has no solution nearby
_STEP = 1e-2  # of a standard uncertainty, for derivatives


@dataclass(frozen=True, slots=True)
class Known:
    """A value and its standard uncertainty [both in the quantity's unit]; `u` 0 is exact."""

    value: float
    u: float


@dataclass(frozen=True, slots=True)
class Relation:
    """What ties some quantities: a function of them by name that is zero where they agree."""

    name: str
    residual: Callable[..., float]
    arguments: tuple[str, ...]


class NotReconciled(TailblockError, ArithmeticError):
    """No values near the readings satisfy the relations."""

    def __init__(self, relations: Sequence[Relation]) -> None:
        self.relations = tuple(relation.name for relation in relations)
        super().__init__(
            f"no values near the readings satisfy {', '.join(self.relations)}: "
            "look whether one of them is far outside what is possible"
        )


@dataclass(frozen=True, slots=True)
class Fit:
    """One least-squares fit.

    By known quantity: the value `x`, how far it was `moved` in its own standard uncertainties, and
    its `redundancy`, the share of an error in it that shows as such a move. `found` are the
    quantities that were not read; `use` says by relation whether it tests anything.
    """

    x: Array
    moved: Array
    redundancy: Array
    found: Mapping[str, Known]
    use: tuple[bool, ...]

    @property
    def normalised(self) -> Array:
        """Return read less adjusted over its standard deviation; 0 where nothing is tested."""
        tested = self.redundancy > ROUNDING
        deviation = np.sqrt(np.where(tested, self.redundancy, 1.0))
        return np.where(tested, -self.moved / deviation, 0.0)


def adjust(
    relations: Sequence[Relation], known: Mapping[str, Known], unread: Mapping[str, float]
) -> Fit:
    """Move the known values as little as possible, in their uncertainties, to meet the relations.

    With `c + A U t + B z = 0` the linearised relations, U the standard uncertainties and t the
    moves in them, `Q = 1 - B B+` takes out the unread z, and `t = -(Q A U)+ Q c` is the least move;
    `(Q A U)+ (Q A U)` projects on what is tested, and its diagonal is the redundancy.

    Parameters
    ----------
    relations
        Their arguments are all in `known` or `unread`.
    known
        Values with their standard uncertainties; exact ones are not moved.
    unread
        Quantities without a value, each with one near which to look for it.

    Returns
    -------
    Fit
        Arrays in the order of `known`.

    Raises
    ------
    NotReconciled
        The relations have no solution near the values.

    >>> same = Relation("same", lambda a, b: a - b, ("a", "b"))
    >>> fit = adjust([same], {"a": Known(1.0, 0.1), "b": Known(1.5, 0.2)}, {})
    >>> [round(float(x), 3) for x in fit.x]  # worked here: means by weight, 100 to 25
    [1.1, 1.1]
    """
    y = np.array([one.value for one in known.values()])
    u = np.array([one.u for one in known.values()])
    moved = np.zeros(len(y))
    z = np.array(list(unread.values()))
    for _ in range(_PASSES):
        values = dict(zip((*known, *unread), (*(y + u * moved), *z), strict=True))
        steps = dict(zip((*known, *unread), (*(_STEP * u), *([_STEP] * len(z))), strict=True))
        gap = np.array([_value(relation, values) for relation in relations])
        slopes = np.array([_slopes(relation, values, steps) for relation in relations])
        by_u, by_z = slopes[:, : len(y)] * u, slopes[:, len(y) :]
        back = _inverse(by_z, float(np.linalg.norm(by_z)))
        keep = np.eye(len(relations)) - by_z @ back
        tests = keep @ by_u
        inverse = _inverse(tests, float(np.linalg.norm(by_u)))
        before, moved = moved, -inverse @ (keep @ (gap - by_u @ moved))
        shift = back @ (gap + by_u @ (moved - before))
        z = z - shift
        if np.allclose(moved, before, atol=ROUNDING) and np.allclose(shift, 0, atol=ROUNDING):
            break
    else:
        raise NotReconciled(relations)
    projector = inverse @ tests
    free = back @ by_u  # an unread quantity moves by -free t
    spread = np.sqrt(np.maximum(0.0, np.diag(free @ (np.eye(len(y)) - projector) @ free.T)))
    found = zip(unread, z, spread, strict=True)
    return Fit(
        x=y + u * moved,
        moved=moved,
        redundancy=np.diag(projector),
        found={name: Known(float(value), float(deviation)) for name, value, deviation in found},
        use=tuple(bool(row) for row in np.abs(tests).max(axis=1, initial=0.0) > ROUNDING),
    )


def _inverse(matrix: Array, scale: float) -> Array:
    """Return the pseudo-inverse; what is small against a scale is rounding, and taken as zero.

    The scale is that of the numbers that the matrix was computed from: where they cancel, nothing
    is left but rounding, and a cut relative to the matrix itself would keep it.
    """
    left, singular, right = np.linalg.svd(matrix, full_matrices=False)
    kept = singular > ROUNDING * scale
    inverse: Array = (right[kept].T / singular[kept]) @ left[:, kept].T
    return inverse


def _value(relation: Relation, values: Mapping[str, float]) -> float:
    return relation.residual(**{name: values[name] for name in relation.arguments})


def _slopes(
    relation: Relation, values: Mapping[str, float], steps: Mapping[str, float]
) -> list[float]:
    """Return the derivatives by every quantity, as central differences."""
    found = []
    for name, step in steps.items():
        if name not in relation.arguments or not step:
            found.append(0.0)
            continue
        up, down = (_value(relation, {**values, name: values[name] + s}) for s in (step, -step))
        found.append((up - down) / (2 * step))
    return found
