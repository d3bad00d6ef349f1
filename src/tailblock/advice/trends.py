"""Where measurements of several visits are heading, and when they would cross a limit.

In: the checklist and the record. Out: a `Heading` for each check that was measured on three visits
or more over a year or more, in one setup, with no work in between. What was read at first stringing
is left out: it had not settled yet.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from tailblock.advice.comparison import limits_of
from tailblock.inspection.groups import measured
from tailblock.measures.trend import crossing, trend

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from datetime import date

    from tailblock.inspection.groups import Measured
    from tailblock.inspection.record import Inspection, Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.measures.trend import Trend

LEAST, SPAN = 3, 365  # readings, days
HORIZON = 100 * 365.25  # days past the last reading; beyond it no date is worth naming
YEAR = 365.25
FIRST_STRINGING = "first-stringing"


@dataclass(frozen=True, slots=True)
class Crosses:
    """The limit ahead [base unit] and the day on which the line meets it, with a 95 % interval.

    `latest` is None where that lies more than a hundred years ahead.
    """

    limit: float
    day: date
    earliest: date
    latest: date | None


@dataclass(frozen=True, slots=True)
class Heading:
    """The line through the readings of one check in one setup.

    `a_year` and `u_a_year` [base unit a year]; `moves`: it differs from none by more than twice its
    uncertainty. `crosses` is None where nothing lies ahead, or no date can be given.
    """

    check: str
    setup: Setup
    readings: int
    first: date
    last: date
    a_year: float
    u_a_year: float
    scatter: float
    moves: bool
    crosses: Crosses | None


def trends(checklist: Checklist, inspection: Inspection) -> tuple[Heading, ...]:
    """Return where measurements are heading, in the order of the checklist."""
    start = _since(inspection)
    by_visit = [measured(checklist, visit) for visit in inspection.visits]
    found = []
    for name in checklist.checks:
        series: dict[tuple[tuple[str, str], ...], list[tuple[date, Measured]]] = {}
        for visit, means in list(zip(inspection.visits, by_visit, strict=True))[start:]:
            if visit.stage == FIRST_STRINGING:
                continue
            for mean in means.get(name, ()):
                key = tuple(sorted(mean.setup.items()))
                series.setdefault(key, []).append((visit.day, mean))
        found += [
            heading
            for rows in series.values()
            for heading in _heading(checklist, inspection.instrument.traits, name, rows)
        ]
    return tuple(found)


def _since(inspection: Inspection) -> int:
    """Return the last visit that began with work: what it moved is no trend."""
    return max((place for place, visit in enumerate(inspection.visits) if visit.work), default=0)


def _heading(
    checklist: Checklist,
    traits: Mapping[str, str],
    name: str,
    rows: Sequence[tuple[date, Measured]],
) -> Iterator[Heading]:
    first, last = rows[0][0], rows[-1][0]
    if len(rows) < LEAST or (last - first).days < SPAN or any(m.u <= 0.0 for _, m in rows):
        return
    days = [float((day - first).days) for day, _ in rows]
    line = trend(days, [mean.value for _, mean in rows], [mean.u for _, mean in rows])
    edges = limits_of(checklist, traits, checklist.checks[name])
    yield Heading(
        check=name,
        setup=rows[-1][1].setup,
        readings=len(rows),
        first=first,
        last=last,
        a_year=YEAR * line.slope,
        u_a_year=YEAR * line.u_slope,
        scatter=line.scatter,
        moves=line.moves,
        crosses=_crosses(line, edges.values if edges else (), first, days[-1]),
    )


def _crosses(line: Trend, edges: Sequence[float], first: date, today: float) -> Crosses | None:
    """Return the next limit ahead of the line, as it stands on the day of the last reading."""
    now = line.at(today)[0]
    ahead = [edge for edge in edges if (edge - now) * line.slope > 0.0]
    limit = min(ahead, key=lambda edge: abs(edge - now), default=None)
    found = crossing(line, limit) if limit is not None else None
    if limit is None or found is None or found.day - today > HORIZON:
        return None
    far = found.latest - today > HORIZON
    return Crosses(
        limit=limit,
        day=first + timedelta(days=round(found.day)),
        earliest=first + timedelta(days=round(max(found.earliest, today - HORIZON))),
        latest=None if far else first + timedelta(days=round(found.latest)),
    )
