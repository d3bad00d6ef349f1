"""Two visits side by side, in words: readings, faults, trends, and when to look again.

In: `Examined`, and which visits. Out: `Comparison`, for the report and for `compare`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.comparison import comparable, compare
from tailblock.advice.sentences import in_setup, inline
from tailblock.advice.trends import trends
from tailblock.advice.watching import after_work, in_view
from tailblock.messages import _
from tailblock.report.conventions import day
from tailblock.report.measured import ruler
from tailblock.report.model import Compared, Comparison, LookAgain, Rethought, TrendLine
from tailblock.report.sentences import COMPARE_METHOD
from tailblock.report.wording import capital, percent, shown, spread, words_of_level

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from tailblock.advice.comparison import Air, Pair, Value
    from tailblock.advice.trends import Heading
    from tailblock.advice.watching import Watched
    from tailblock.knowledge.entries import Check
    from tailblock.report.examined import Examined
    from tailblock.report.model import Gauge

MOVED = 0.10  # a fault whose probability moved less than this is not told
OVERTURNED = 0.30  # from here on today's knowledge turns round what was thought


def comparison(
    examined: Examined, visits: tuple[int, int] | None = None, planned: Collection[str] = ()
) -> Comparison | None:
    """Return two visits side by side, None where there is nothing to say.

    Parameters
    ----------
    visits
        Indexes, the earlier one first; the last visit and the last before it that can be compared
        if left out.
    planned
        Faults for which work is offered: they are not left to be watched.
    """
    if visits is None:
        before = comparable(examined.inspection, examined.visit)
        visits = None if before is None else (before, examined.visit)
    again = tuple(_look_again(examined, planned))
    if visits is None and not again:
        return None
    heading = tuple(_trends(examined))
    if visits is None:
        return Comparison(None, "", "", (), (), (), heading, again, "")
    before, after = visits
    found = compare(examined.checklist, examined.inspection, examined.heard, before, after)
    titles = {check.id: check.title for check in examined.checklist.checks.values()}
    return Comparison(
        visits=(before + 1, after + 1),
        title=_("{examined}, and {examined_2}").format(
            examined=visit_words(examined, before), examined_2=visit_words(examined, after)
        ),
        air=_air(found.air),
        readings=tuple(_compared(examined, pair) for pair in found.pairs),
        not_compared=(
            *(
                _("{titles}: read in no setup that is the same").format(titles=titles[name])
                for name in found.apart
            ),
            *(
                _("{titles}: on one visit it does not count").format(titles=titles[name])
                for name in found.silent
            ),
        ),
        faults=tuple(_rethought(examined, before, after)),
        trends=heading,
        look_again=again,
        method=_(COMPARE_METHOD),
    )


def visit_words(examined: Examined, place: int) -> str:
    """Name a visit, by its index, with its stage and its day."""
    visit = examined.inspection.visits[place]
    stage = examined.checklist.stages[visit.stage]
    return _("visit {place} ({value}, {day})").format(
        place=place + 1, value=stage.name or stage.id, day=day(visit.day)
    )


def _air(air: Air) -> str:
    if air.before is None or air.after is None:
        return _(
            "The humidity of one of the visits is not known: what the air has done is not told."
        )
    values = _("{before} then, {after} now").format(
        before=shown(air.before, "percent"), after=shown(air.after, "percent")
    )
    if air.alike:
        return _("Humidity {values}: near enough to compare.").format(values=values)
    return _(
        "Humidity {values}: too far apart, part of every change below may be the air alone."
    ).format(values=values)


def _compared(examined: Examined, pair: Pair) -> Compared:
    check = examined.checklist.checks[pair.check]
    change = ""
    if check.measure is not None and pair.change is not None and pair.u is not None:
        quantity = check.measure.quantity
        sign = "+" if pair.change >= 0 else ""
        size = f"{sign}{_difference(pair.change, quantity)} ± {spread(pair.u, quantity)}"
        within = abs(pair.change) <= 2 * pair.u
        change = (
            _("{size}, no more than the gauge's own spread").format(size=size) if within else size
        )
    return Compared(
        id=pair.check,
        check=check.title,
        setup=in_setup(pair.setup),
        before=_value(examined, pair, pair.before),
        after=_value(examined, pair, pair.after),
        change=change,
        way=pair.way,
        outside=pair.outside,
        settling=_settling(pair),
        value_before=pair.before.value,
        value_after=pair.after.value,
        uncertainty=pair.u,
        gauges=_gauges(examined, check, pair),
    )


def _gauges(examined: Examined, check: Check, pair: Pair) -> tuple[Gauge, Gauge] | None:
    old, new = pair.before, pair.after
    if check.measure is None or old.value is None or new.value is None:
        return None
    traits = examined.inspection.instrument.traits
    ruled = ruler(check, check.measure, traits, examined.checklist)
    return ruled.gauge(old.value, old.u or 0.0), ruled.gauge(new.value, new.u or 0.0)


def _difference(value: float, quantity: str) -> str:
    return spread(value, quantity)  # a difference of temperatures has no zero of a scale


def _value(examined: Examined, pair: Pair, one: Value) -> str:
    check = examined.checklist.checks[pair.check]
    words = words_of_level(check, one.level)
    if check.measure is None or one.value is None:
        return words
    return f"{shown(one.value, check.measure.quantity)}, {words}"


def _settling(pair: Pair) -> str:
    if pair.settling is None:
        return ""
    expected = f"{shown(pair.settling.change, 'length')} ± {spread(pair.settling.u, 'length')}"
    verdict = _("which explains it") if pair.settling.explains else _("which does not explain it")
    return _("Settling alone makes about {expected}, {verdict}.").format(
        expected=expected, verdict=verdict
    )


def _rethought(examined: Examined, before: int, after: int) -> Iterator[Rethought]:
    then, known, now = examined.then(before), examined.on(before), examined.on(after)
    for id_, fault in examined.checklist.faults.items():
        if id_ not in now or fault.harm == "none":
            continue
        thought = then.get(id_) if then is not None else None
        turned = thought is not None and abs(known[id_] - thought) >= OVERTURNED
        if turned or abs(now[id_] - known[id_]) >= MOVED:
            text = _("{name}: {known} then, {now} now").format(
                name=fault.name, known=percent(known[id_]), now=percent(now[id_])
            )
            if turned and thought is not None:
                text = _(
                    "{name}: thought {thought} then; by what is known today it "
                    "was {known}, and it is {now} now"
                ).format(
                    name=fault.name,
                    thought=percent(thought),
                    known=percent(known[id_]),
                    now=percent(now[id_]),
                )
            yield Rethought(id_, fault.name, thought, known[id_], now[id_], turned, text)


def _trends(examined: Examined) -> Iterator[TrendLine]:
    for heading in trends(examined.checklist, examined.inspection):
        crosses = heading.crosses
        yield TrendLine(
            id=heading.check,
            text=_trend(examined, heading),
            crosses=crosses.day.isoformat() if crosses else "",
            earliest=crosses.earliest.isoformat() if crosses else "",
            latest=crosses.latest.isoformat() if crosses and crosses.latest else "",
        )


def _trend(examined: Examined, heading: Heading) -> str:
    check = examined.checklist.checks[heading.check]
    quantity = check.measure.quantity if check.measure else "count"
    sign = "+" if heading.a_year >= 0 else ""
    rate = f"{sign}{_difference(heading.a_year, quantity)} ± {spread(heading.u_a_year, quantity)}"
    years = _("{readings} readings from {first} to {last}").format(
        readings=heading.readings, first=day(heading.first), last=day(heading.last)
    )
    said = _("{title} ({setup}): {rate} a year by {years}").format(
        title=check.title, setup=in_setup(heading.setup), rate=rate, years=years
    )
    if not heading.moves:
        return _("{said}: it could as well stand still.").format(said=said)
    if heading.crosses is None:
        return _("{said}: no limit lies ahead that a date could be given for.").format(said=said)
    latest = (
        _("and {latest}").format(latest=day(heading.crosses.latest))
        if heading.crosses.latest
        else _("and no latest day")
    )
    return _(
        "{said}. If it goes on like that it reaches {limit} about "
        "{day} (between {earliest} {latest}, 95 in 100)."
    ).format(
        said=said,
        limit=shown(heading.crosses.limit, quantity),
        day=day(heading.crosses.day),
        earliest=day(heading.crosses.earliest),
        latest=latest,
    )


def _look_again(examined: Examined, planned: Collection[str]) -> Iterator[LookAgain]:
    visits = examined.inspection.visits[: examined.visit + 1]
    checklist = examined.checklist
    kept = in_view(checklist, examined.causes, examined.settled_by, visits[-1].day, planned)
    listed = sorted((*after_work(checklist, visits), *kept), key=lambda one: one.due)
    for one in listed:
        yield LookAgain(
            due=one.due.isoformat(),
            text=_again(examined, one),
            done=one.seen.isoformat() if one.seen else "",
        )


def _again(examined: Examined, one: Watched) -> str:
    checklist = examined.checklist
    by = checklist.checks[one.check].title if one.check else ""
    if one.remedy is not None:
        return _("{by}, after: {name}").format(
            by=by, name=inline(checklist.remedies[one.remedy].name)
        )
    name = capital(checklist.faults[one.fault or ""].name)
    chance = next(cause.probability for cause in examined.causes if cause.id == one.fault)
    told = f"{name} ({percent(chance)})"
    return f"{told}: {inline(by)}" if by else told
