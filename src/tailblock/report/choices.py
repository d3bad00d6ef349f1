"""What the player can choose, in a line each: doing nothing, and each offer with its hours.

In: `Examined`, the hours of options that are known already, and a shop if there is one. Out:
`Choice`s for the first page, from the least work to the most.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.model import Choice
from tailblock.report.options import options
from tailblock.report.plan import leave
from tailblock.report.wording import time_spent

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.advice.hours import Promise, WorkHours
    from tailblock.inspection.shop import Shop
    from tailblock.report.examined import Examined

NOTHING = N_("Do nothing")
NOT_KNOWN = N_("hours out of reach here")


def choices(
    examined: Examined,
    known: Mapping[str, WorkHours | None],
    shop: Shop | None,
) -> tuple[Choice, ...]:
    """Return the choices; the hours of options that are `known` need not be worked out again."""
    return tuple(_choices(examined, known, shop))


def _choices(
    examined: Examined,
    known: Mapping[str, WorkHours | None],
    shop: Shop | None,
) -> Iterator[Choice]:
    yield Choice("", _(NOTHING), None, None, leave(examined)[0])
    for option in options(examined.plan.chosen, at_pitch=examined.may_string.answer == "yes"):
        found: Promise | WorkHours | None
        found = known[option.id] if option.id in known else examined.promise_of(option.pieces)
        if found is None:
            yield Choice(option.id, option.title, None, None, _(NOT_KNOWN))
            continue
        low, high = (enough.hours for enough in found.quantiles[:2])
        costs = _costs(found, shop) if shop else ()
        spans = [_span(time_spent(low), time_spent(high))]
        spans += [_span(*costs)] if costs else []
        yield Choice(option.id, option.title, low, high, ", ".join(spans))


def _costs(found: Promise | WorkHours, shop: Shop) -> tuple[str, ...]:
    from tailblock.report.money import totals  # noqa: PLC0415  (a report without a shop needs none)

    return totals(found, shop)[:2]


def _span(low: str, high: str) -> str:
    """Say two values of one unit as a span, the unit once.

    >>> _span("8 h", "10 h"), _span("8 h", "8 h")
    ('8 to 10 h', 'about 8 h')
    """
    if low == high:
        return _("about {low}").format(low=low)
    for space in ("\N{NO-BREAK SPACE}", " "):
        first, found, unit = low.rpartition(space)
        if found and high.endswith(space + unit):
            return _("{first} to {high}").format(first=first, high=high)
    return _("{low} to {high}").format(low=low, high=high)
