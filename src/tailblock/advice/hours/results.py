"""What is said of the hours of a plan: frozen values.

In: nothing; the other modules of this folder make these. Out: data for `hours` and the report.
Hours are bench hours, without drying and waiting; chances run from 0 to 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class PieceHours:
    """A piece of work that may come up: how probable it is and the hours it then takes.

    `mean` is that of the work if it is done. `planned` says that it stands in the plan; other work
    is called by one of the faults in `revealed_by`, or needed by what is called.
    """

    remedy: str
    chance: float
    low: float
    likely: float
    high: float
    mean: float
    planned: bool
    revealed_by: tuple[str, ...]

    @property
    def expected(self) -> float:
        """Return what it adds to the mean of the plan."""
        return self.chance * self.mean


@dataclass(frozen=True, slots=True)
class Quantile:
    """So many hours are enough for a `share` of such jobs; `error` is the standard error."""

    share: float
    hours: float
    error: float


@dataclass(frozen=True, slots=True)
class Contributor:
    """A piece of work and its share of the variance of the hours: all shares add up to 1.

    `length` is the part that comes from how long it takes, `need` the part from not knowing
    whether it is needed, its covariance with all other work included; it can be below 0.
    """

    remedy: str
    length: float
    need: float

    @property
    def share(self) -> float:
        """Return both parts together."""
        return self.length + self.need


@dataclass(frozen=True, slots=True)
class Worth:
    """What knowing something before a price is promised would leave of the spread.

    `sd_left` is the root of the expected variance of the hours after it is known. A stop point is
    named by its remedy: what the faults that it brings to light would tell. `minutes` are attended
    minutes of a check with the way there, None for a stop point.
    """

    kind: Literal["check", "stop-point"]
    id: str
    sd_left: float
    minutes: float | None


@dataclass(frozen=True, slots=True)
class WorkHours:
    """The hours of a plan as a distribution.

    Exact: `mean`, `sd`, `pieces`, `contributors`, `worth`. Simulated: `quantiles`, and the
    histogram (`edges`, one more than `counts`) of `drawn` jobs. `worth` lists the checks and stop
    points that would narrow the spread most, best first.
    """

    pieces: tuple[PieceHours, ...]
    mean: float
    sd: float
    quantiles: tuple[Quantile, ...]
    edges: tuple[float, ...]
    counts: tuple[int, ...]
    drawn: int
    contributors: tuple[Contributor, ...]
    worth: tuple[Worth, ...]


@dataclass(frozen=True, slots=True)
class Promise:
    """Of the hours of a plan only how many are enough, and how probable each piece of work is."""

    pieces: tuple[PieceHours, ...]
    quantiles: tuple[Quantile, ...]
