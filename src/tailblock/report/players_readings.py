"""The few measurements that the player sees: for each cause the one that speaks most for it.

In: `Examined`, the causes in their order. Out: `PlainMeasured` by fault. Each measurement is shown
once, at the cause for which it speaks most.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.findings import gauge_of
from tailblock.report.model import PlainMeasured
from tailblock.report.wording import band, clause, shown, spread

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tailblock.report.examined import Examined
    from tailblock.report.model import Gauge

MOST = 4  # measurements in the player's copy
SPEAKS = 2.0  # decibans; below that a reading is a hint and no reason


def players_readings(examined: Examined, causes: Sequence[str]) -> Mapping[str, PlainMeasured]:
    """Return what is shown beside which cause.

    Parameters
    ----------
    causes
        Ids of the faults that are told, in their order.
    """
    weighed = [
        (one.decibans, cause, (one.check, one.visit))
        for cause in causes
        for one in examined.reasons[cause].in_favour
        if one.decibans >= SPEAKS
    ]
    weighed.sort(key=lambda entry: -entry[0])
    found: dict[str, PlainMeasured] = {}
    seen: set[tuple[str, int]] = set()
    for _weight, cause, reading in weighed:
        if cause in found or reading in seen or len(found) == MOST:
            continue
        gauge = gauge_of(examined, *reading)
        if gauge is not None and not _normal(gauge):
            seen.add(reading)
            found[cause] = _told(examined, reading[0], gauge)
    return found


def _normal(gauge: Gauge) -> bool:
    low, high = gauge.normal
    return (low is None or gauge.value >= low) and (high is None or gauge.value <= high)


def _told(examined: Examined, id_: str, gauge: Gauge) -> PlainMeasured:
    check = examined.checklist.checks[id_]
    quantity = check.measure.quantity if check.measure else "count"
    normal = band(*(None if end is None else shown(end, quantity) for end in gauge.normal))
    about = _("{value}, give or take {uncertainty}").format(
        value=shown(gauge.value, quantity), uncertainty=spread(gauge.uncertainty, quantity)
    )
    text = _("Measured: {title}, {about}; normal is {normal}.").format(
        title=clause(check.title), about=about, normal=normal
    )
    return PlainMeasured(check.title, text, replace(gauge, text=text))
