"""What changed since an earlier visit, for the player: in plain words, without a gauge.

In: `Examined` and the comparison of the bench copy. Out: `PlainChanges`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.watching import after_work, in_view
from tailblock.messages import _
from tailblock.report.comparison import visit_words
from tailblock.report.conventions import day
from tailblock.report.model import PlainChanges
from tailblock.report.wording import capital, clause, listed, percent, sure

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from tailblock.advice.watching import Watched
    from tailblock.report.examined import Examined
    from tailblock.report.model import Compared, Comparison, Rethought


def plain_changes(
    examined: Examined, compared: Comparison, planned: Collection[str] = ()
) -> PlainChanges:
    """Return the comparison in the player's words.

    Parameters
    ----------
    planned
        Faults for which work is offered: they are not left to be watched.
    """
    since = ""
    said: list[str] = []
    if compared.visits:
        before, after = (number - 1 for number in compared.visits)
        since = _("{examined}, and {examined_2}.").format(
            examined=capital(visit_words(examined, before)), examined_2=visit_words(examined, after)
        )
        said += [_fault(examined, one) for one in compared.faults]
        said += _readings(examined, compared)
    said += _trends(examined, compared)
    return PlainChanges(since, tuple(said), tuple(dict.fromkeys(_again(examined, planned))))


def _fault(examined: Examined, one: Rethought) -> str:
    plain = capital(clause(examined.checklist.faults[one.id].plain))
    now = _chance(one.now)
    if one.overturned and one.then is not None:
        return _(
            "{plain}: thought {then} then; by what is known today it was "
            "{known}, and now it is {now}."
        ).format(plain=plain, then=_chance(one.then), known=_chance(one.known), now=now)
    return _("{plain}: {known} then, {now} now.").format(
        plain=plain, known=_chance(one.known), now=now
    )


def _chance(probability: float) -> str:
    return f"{sure(probability)} ({percent(probability)})"


def _readings(examined: Examined, compared: Comparison) -> Iterator[str]:
    """Say how many readings went which way, and where they are worse or out of bounds."""
    ways = [len(compared.by_way(way)) for way in ("better", "worse", "same")]
    if not any(ways):
        return
    told = zip(ways, (_("better"), _("worse"), _("as it was")), strict=True)
    went = listed([f"{number} {way}" for number, way in told if number])
    yield _("Of what was looked at in the same way both times: {went}.").format(went=went)
    for what, ones in (
        (_("Worse than then"), compared.by_way("worse")),
        (_("Still outside of what is usual"), [one for one in compared.readings if one.outside]),
    ):
        if ones:
            yield f"{what}: {'; '.join(_where(examined, ones))}."


def _where(examined: Examined, ones: Collection[Compared]) -> list[str]:
    """Return the parts of some readings in the player's words, each once."""
    checklist = examined.checklist
    parts = dict.fromkeys(checklist.checks[one.id].part for one in ones)
    return [clause(checklist.parts[part].plain or checklist.parts[part].name) for part in parts]


def _trends(examined: Examined, compared: Comparison) -> Iterator[str]:
    checks = examined.checklist.checks
    parts = examined.checklist.parts
    for one in compared.trends:
        if one.crosses:
            part = parts[checks[one.id].part]
            latest = (
                _("and {latest}").format(latest=day(one.latest))
                if one.latest
                else _("and no latest day")
            )
            yield (
                _(
                    "{capital}: a measurement there drifts. If it goes on like "
                    "that it needs a look about {crosses} (between {earliest} "
                    "{latest}, 95 in 100)."
                ).format(
                    capital=capital(part.plain or part.name),
                    crosses=day(one.crosses),
                    earliest=day(one.earliest),
                    latest=latest,
                )
            )


def _again(examined: Examined, planned: Collection[str]) -> Iterator[str]:
    checklist = examined.checklist
    visits = examined.inspection.visits[: examined.visit + 1]
    kept = in_view(checklist, examined.causes, examined.settled_by, visits[-1].day, planned)
    for one in sorted((*after_work(checklist, visits), *kept), key=lambda one: one.due):
        if one.seen is None:
            yield f"{day(one.due)}: {_watched(examined, one)}."


def _watched(examined: Examined, one: Watched) -> str:
    checklist = examined.checklist
    if one.remedy is not None:
        return _("a look at the work that was done ({name})").format(
            name=clause(checklist.remedies[one.remedy].name)
        )
    return _("whether {plain}").format(plain=clause(checklist.faults[one.fault or ""].plain))
