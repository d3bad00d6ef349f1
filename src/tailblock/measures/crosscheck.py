"""Whether readings that one geometry ties together agree, and what each is by all the others.

In: values with standard uncertainties by name, relations between them. Out: for each reading its
adjusted value, the value that all others imply, how far it lies from that, and whether the others
agree once it is left out. The relations of the bench are in `geometry`.

Method: least squares (`adjustment`), once with everything and once without each reading. A
reading's difference from what the others imply, over the standard uncertainty of that difference,
is the normalised residual of the whole fit (from memory, as texts on the adjustment of observations
have it; tested).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erfc, exp, hypot, pi, sqrt
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.measures.adjustment import ROUNDING, Known, Relation, adjust

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

COVERAGE = 2.0  # JCGM 100:2008, 6.2 and 6.3: k = 2 covers about 95 %


@dataclass(frozen=True, slots=True)
class Checked:
    """A reading among the others.

    `adjusted` is where least squares puts it, `implied` what all others say of it, without it.
    `normalised` is (read - implied) over the standard uncertainty of that difference, `slip` the
    same difference in standard uncertainties of the reading alone. `alone` says whether the others
    agree with one another once it is left out. `is_off`: it differs by more than the uncertainty of
    the difference, expanded by a coverage factor of 2.
    """

    adjusted: Known
    implied: Known
    normalised: float
    slip: float
    alone: bool

    @property
    def is_off(self) -> bool:
        """Return whether it differs from what the others imply by more than both allow."""
        return abs(self.normalised) > COVERAGE


@dataclass(frozen=True, slots=True)
class Reconciled:
    """How a set of readings goes together.

    `checked` holds the readings that the others say something about; `relations` the names of the
    relations that test anything. `chi_square` has `degrees` degrees of freedom (0: nothing is
    tested), and `chance` is how often sound readings disagree at least as much.
    """

    checked: Mapping[str, Checked]
    relations: tuple[str, ...]
    chi_square: float
    degrees: int
    chance: float


def chi_square_tail(x: float, degrees: int) -> float:
    """Return the chance that a chi-square variable exceeds a value.

    `Q(1) = erfc(sqrt(x/2))`, `Q(2) = exp(-x/2)`, and each further two degrees add one term.

    Parameters
    ----------
    x
        The value [1], not negative.
    degrees
        Degrees of freedom [1], at least 1.

    Source: the usual recurrence, from memory.

    >>> round(chi_square_tail(3.841, 1), 3)  # the 95 % point of any table
    0.05
    """
    first = 1 if degrees % 2 else 2
    tail = erfc(sqrt(x / 2)) if first == 1 else exp(-x / 2)
    term = exp(-x / 2) * (sqrt(2 * x / pi) if first == 1 else x / 2)
    for freedom in range(first, degrees - 1, 2):
        tail += term
        term *= x / (freedom + 2)
    return tail


def reconcile(
    relations: Sequence[Relation],
    known: Mapping[str, Known],
    unread: Mapping[str, float],
    readings: Collection[str],
) -> Reconciled:
    """Return how readings go together, and what each is by all the others.

    Parameters
    ----------
    relations
        Their arguments are all in `known` or `unread`.
    known
        Readings, and constants with the uncertainty that they have.
    unread
        Quantities that nobody read, each with a value near which to look for it.
    readings
        Which of `known` are readings: these are tested, and left out one after the other.

    Returns
    -------
    Reconciled
        Readings that agree to the last digit are left as they are.

    Raises
    ------
    NotReconciled
        The relations have no solution near the readings.

    >>> sum_of_two = Relation("sum", lambda a, b, c: a + b - c, ("a", "b", "c"))
    >>> read = {"a": Known(1.0, 0.1), "b": Known(2.0, 0.1), "c": Known(3.3, 0.1)}
    >>> found = reconcile([sum_of_two], read, {}, read)
    >>> one = found.checked["c"]  # worked here: c is 3.0 by the others, u^2 = 0.1^2 + 0.1^2
    >>> round(one.adjusted.value, 3), round(one.implied.value, 3), round(one.implied.u, 4)
    (3.2, 3.0, 0.1414)
    >>> round(one.normalised, 3), round(found.chi_square, 3), found.degrees  # 0.3/0.1732; 0.09/0.03
    (1.732, 3.0, 1)
    """
    whole = adjust(relations, known, unread)
    checked = {}
    for place, (name, one) in enumerate(known.items()):
        share = float(whole.redundancy[place])
        if name not in readings or share < ROUNDING:
            continue
        others = {other: value for other, value in known.items() if other != name}
        without = adjust(relations, others, {**unread, name: one.value})
        implied = without.found[name]
        left = dict(zip(others, without.normalised, strict=True))
        checked[name] = Checked(
            adjusted=Known(float(whole.x[place]), one.u * sqrt(max(0.0, 1 - share))),
            implied=implied,
            normalised=(one.value - implied.value) / hypot(one.u, implied.u),
            slip=(one.value - implied.value) / one.u,
            alone=all(abs(left[other]) <= COVERAGE for other in left if other in readings),
        )
    degrees = round(float(whole.redundancy.sum()))
    chi_square = float(whole.moved @ whole.moved)
    return Reconciled(
        checked=MappingProxyType(checked),
        relations=tuple(r.name for r, use in zip(relations, whole.use, strict=True) if use),
        chi_square=chi_square,
        degrees=degrees,
        chance=chi_square_tail(chi_square, degrees) if degrees else 1.0,
    )
