"""What the climate alone makes of a reading that has changed since an earlier visit.

In: `Examined`. Out: a `ClimateChange` for each height that was read on two visits whose climate is
known, with no work done in between; none where there is no such visit. No probability rests on it.
"""

from __future__ import annotations

from math import hypot
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection.groups import measured
from tailblock.measures import parse
from tailblock.measures.climate_verdict import explained_by_climate
from tailblock.measures.rows.arguments import ASSUMED
from tailblock.messages import _
from tailblock.report.model import ClimateChange
from tailblock.report.sentences import CLIMATE_ENOUGH, CLIMATE_EXPLAINS, CLIMATE_NOT_ENOUGH
from tailblock.report.wording import shown, spread

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.record import Visit
    from tailblock.knowledge.entries import LengthName
    from tailblock.measures.climate_verdict import ClimateVerdict
    from tailblock.report.examined import Examined

# Length of the checklist's `geometry` -> rise for each % of moisture and its standard uncertainty
# [mm], see `season_change`.
RISES: Mapping[LengthName, tuple[float, float]] = MappingProxyType(
    {
        "action-bass": ASSUMED["rise_per_moisture"],
        "action-treble": ASSUMED["rise_per_moisture"],
        "belly": (0.28, 0.10),
        "projection": (-0.25, 0.12),
    }
)
HYGROMETER = 3.0  # % of humidity, standard uncertainty of an ordinary one, from memory
LENGTH = "length"


def climate(examined: Examined) -> tuple[ClimateChange, ...]:
    """Return what the climate explains of the changes since the last visit with a known climate."""
    visits = examined.inspection.visits[: examined.visit + 1]
    now, air = visits[-1], _air(visits[-1])
    if air is None:
        return ()
    for number in range(len(visits) - 1, 0, -1):
        if visits[number].work:  # what it moved, the climate need not explain
            return ()
        before = _air(visits[number - 1])
        if before is not None:
            return tuple(_changes(examined, number, (visits[number - 1], now), (before, air)))
    return ()


def _air(visit: Visit) -> tuple[float, float] | None:
    """Return temperature and humidity of the room, a heated room's temperature if none is given."""
    if "humidity" not in visit.climate:
        return None
    temperature = ASSUMED["temperature_before"][0]
    if "temperature" in visit.climate:
        temperature = parse(visit.climate["temperature"], "temperature", "C").quantity.value
    return temperature, parse(visit.climate["humidity"], "percent", "%").quantity.value


def _changes(
    examined: Examined,
    number: int,
    visits: tuple[Visit, Visit],
    airs: tuple[tuple[float, float], tuple[float, float]],
) -> Iterator[ClimateChange]:
    """Yield the checks that were read on both visits in one setup."""
    means = [measured(examined.checklist, visit) for visit in visits]
    geometry = examined.checklist.geometry
    for length, rise in RISES.items():
        check = geometry[length].check if length in geometry else ""
        old, new = (next(iter(found.get(check, ())), None) for found in means)
        if old is None or new is None or old.setup != new.setup:
            continue
        change, u = new.value - old.value, hypot(old.u, new.u)
        try:
            verdict = explained_by_climate(
                change,
                u,
                humidity=(airs[0][1], airs[1][1]),
                temperature=(airs[0][0], airs[1][0]),
                rise_per_moisture=rise,
                u_humidity=HYGROMETER,
            )
        except TailblockError:  # an air in which no rule of thumb holds
            return
        yield ClimateChange(
            id=check,
            change=change,
            uncertainty=u,
            expected=verdict.expected,
            expected_uncertainty=verdict.u_expected,
            explained=verdict.explained,
            text=_(CLIMATE_EXPLAINS).format(
                check=examined.checklist.checks[check].title,
                change=_height(change, u),
                number=number,
                before=shown(airs[0][1], "percent"),
                after=shown(airs[1][1], "percent"),
                expected=_height(verdict.expected, verdict.u_expected),
                verdict=_verdict(verdict),
            ),
        )


def _verdict(verdict: ClimateVerdict) -> str:
    if verdict.explained:
        return _(CLIMATE_ENOUGH)
    return _(CLIMATE_NOT_ENOUGH).format(left=_height(verdict.unexplained, verdict.u_unexplained))


def _height(value: float, u: float) -> str:
    return f"{shown(value, LENGTH)} ± {spread(u, LENGTH)}"
