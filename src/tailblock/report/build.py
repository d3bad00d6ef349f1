"""From what was concluded to what is said: the whole report, in the order of its pages.

In: `Examined`. Out: `Report`. Pure: the date is the visit's, and the same examination gives the
same report on any day and any machine.
"""

from __future__ import annotations

from dataclasses import replace
from importlib.metadata import version
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.knowledge.entries import UNKNOWN
from tailblock.knowledge.traits import applies
from tailblock.measures import both_systems
from tailblock.messages import _
from tailblock.report.appendix import appendix
from tailblock.report.causes import causes, still_open
from tailblock.report.changes import plain_changes
from tailblock.report.choices import choices
from tailblock.report.climate import climate
from tailblock.report.comparison import comparison
from tailblock.report.conventions import Conventions, day, speaking
from tailblock.report.conventions import value as by_locale
from tailblock.report.cross_checks import cross_checks
from tailblock.report.explanations import together
from tailblock.report.findings import findings, said
from tailblock.report.first_page import players_page
from tailblock.report.hours import hours_of_work
from tailblock.report.letterhead import letterhead
from tailblock.report.model import Heading, Labelled, Report
from tailblock.report.neck_line import neck_line
from tailblock.report.next_steps import ENOUGH, accepted, held, next_checks, unlisted
from tailblock.report.options import option_of
from tailblock.report.photos import photos
from tailblock.report.plan import plan
from tailblock.report.players_copy import players_copy
from tailblock.report.portrait import numbered, portrait
from tailblock.report.safety import not_at_home, safety, uses
from tailblock.report.sentences import NOT_SEEN
from tailblock.report.sources import sources
from tailblock.report.verdict import part_grade
from tailblock.report.wording import capital, clause, hours, listed, listed_some, setup_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.inspection.picture import Picture
    from tailblock.inspection.record import Visit
    from tailblock.inspection.shop import Shop
    from tailblock.report.examined import Examined


BEYOND = 10  # checks that are named as left for want of time


def build(
    examined: Examined,
    option: str = "",
    shop: Shop | None = None,
    pictures: Mapping[str, Picture] = MappingProxyType({}),
    *,
    conventions: Conventions | None = None,
) -> Report:
    """Return the report on one visit of an inspection.

    Parameters
    ----------
    option
        The option whose hours are said; the widest of what is needed if left out.
    shop
        What an hour costs, and how the report looks; without it hours are all that is said.
    pictures
        By the paths under which the inspection names them; a photograph whose picture is not among
        them is named only.
    conventions
        How numbers and days are written; as the shop has it if left out.

    Raises
    ------
    NoSuchOption
    """
    if conventions is None:
        look = shop.look if shop else None
        conventions = (
            Conventions(look.locale, look.inch_first, look.paper) if look else Conventions()
        )
    with speaking(conventions):
        return replace(_build(examined, option, shop, pictures), conventions=conventions)


def _build(
    examined: Examined, option: str, shop: Shop | None, pictures: Mapping[str, Picture]
) -> Report:
    picked = option_of(examined.plan.chosen, option, at_pitch=examined.may_string.answer == "yes")
    used = uses(examined)
    numbers = {caution: number for number, caution in enumerate(used, start=1)}
    work = plan(examined, numbers)
    argued = causes(examined, lambda check, visit: said(examined, check, visit))
    at_home = not_at_home(examined, used)
    found = examined.hours_of(picked.pieces) if picked else None
    checklist = examined.checklist
    work_hours = hours_of_work(found, picked, checklist, shop) if picked and found else None
    known = {picked.id: found} if picked else {}
    page = players_page(examined, work, at_home, choices(examined, known, shop))
    calling = examined.plan.chosen.calling
    compared = comparison(examined, planned=calling)
    argued_ids = [cause.id for cause in argued.argued]
    told = numbered(page.matters, argued_ids)
    argued = replace(
        argued, argued=tuple(sorted(argued.argued, key=lambda one: told.index(one.id)))
    )
    drawn = portrait(examined, told)
    return Report(
        heading=heading(examined),
        first_page=page,
        players_copy=players_copy(
            examined,
            told,
            work,
            page,
            at_home,
            drawn=drawn,
            work_hours=work_hours,
            changes=plain_changes(examined, compared, calling) if compared else None,
        ),
        portrait=drawn,
        grades=tuple(part_grade(examined, part) for part in examined.grades.parts),
        work_done=tuple(_work_done(examined)),
        findings=findings(examined),
        confirmed=tuple(_confirmed(examined)),
        photos=photos(examined, pictures),
        neck_line=neck_line(examined),
        cross_checks=cross_checks(examined),
        climate=climate(examined),
        comparison=compared,
        causes=argued,
        together=together(examined, lambda check, visit: said(examined, check, visit)),
        open=still_open(examined),
        next_checks=next_checks(examined, numbers),
        enough=_(ENOUGH) if examined.advice.enough else "",
        unlisted=unlisted(examined),
        held=held(examined),
        accepted=accepted(examined),
        safety=safety(examined, used),
        plan=work,
        hours=work_hours,
        not_looked_at=tuple(_not_looked_at(examined)),
        sources=sources(examined, used, argued_ids),
        appendix=appendix(examined, used, argued_ids, work),
        letterhead=letterhead(shop) if shop else None,
    )


def heading(examined: Examined) -> Heading:
    """Return which instrument and visit this is, who looked, and by which knowledge."""
    checklist, inspection = examined.checklist, examined.inspection
    visit = inspection.visits[examined.visit]
    return Heading(
        job=inspection.job,
        instrument=inspection.instrument.description,
        player=inspection.player.name,
        visit=_("{examined}, visit {visit} of {visits}").format(
            examined=_stage(examined, visit),
            visit=examined.visit + 1,
            visits=len(inspection.visits),
        ),
        day=visit.day.isoformat(),
        by=visit.by,
        facts=tuple(_facts(examined)),
        state=tuple(_state(visit)),
        note=inspection.instrument.note,
        checklist=f"{checklist.title} ({checklist.id})",
        checklist_version=checklist.version,
        checklist_digest=checklist.digest,
        file_digest=inspection.digest,
        engine=version("tailblock"),
    )


def _stage(examined: Examined, visit: Visit) -> str:
    stage = examined.checklist.stages.get(visit.stage)
    return stage.name if stage and stage.name else capital(visit.stage.replace("-", " "))


def _facts(examined: Examined) -> Iterator[Labelled]:
    instrument = examined.inspection.instrument
    unknown = []
    for trait in examined.checklist.traits.values():
        value = instrument.traits.get(trait.id, UNKNOWN)
        if value == UNKNOWN:
            unknown.append(clause(trait.called))
        else:
            yield Labelled(capital(trait.called), trait.text(value))
    if instrument.scale_length is not None:
        yield Labelled(_("Scale length"), by_locale(both_systems(instrument.scale_length)))
    if instrument.frets_clear is not None:
        yield Labelled(_("Frets clear of the body"), str(instrument.frets_clear))
    if unknown:
        yield Labelled(_("Not known"), listed(unknown))


def _state(visit: Visit) -> Iterator[Labelled]:
    yield Labelled(_("Came in with"), setup_words(visit.setup))
    if visit.present_setup != visit.setup:
        yield Labelled(_("Now"), setup_words(visit.present_setup))
    for name, written in visit.climate.items():
        yield Labelled(_("{name} in the room").format(name=capital(name)), written)
    if visit.note:
        yield Labelled(_("Note on this visit"), visit.note)


def _work_done(examined: Examined) -> Iterator[str]:
    for number, visit in enumerate(examined.inspection.visits[: examined.visit + 1], start=1):
        for done in visit.work:
            name = examined.checklist.remedies[done.remedy].name
            spent = f", {hours(done.hours)}" if done.hours is not None else ""
            yield _("{name}{spent} (before visit {number}, {day})").format(
                name=name, spent=spent, number=number, day=day(visit.day)
            )


def _confirmed(examined: Examined) -> Iterator[str]:
    for number, visit in enumerate(examined.inspection.visits[: examined.visit + 1], start=1):
        for seen in visit.confirmed:
            answer = _("there") if seen.present else _("not there")
            yield _("{name}: {answer} (visit {number})").format(
                name=examined.checklist.faults[seen.fault].name, answer=answer, number=number
            )


def _not_looked_at(examined: Examined) -> Iterator[str]:
    """Yield the parts without an answer, the checks that gave none, and what nobody could see."""
    checklist = examined.checklist
    visits = examined.inspection.visits[: examined.visit + 1]
    standing = [r for visit in visits for r in visit.readings if not r.retracted]
    answered = {reading.check for reading in standing if not reading.answer.unknown}
    seen = {checklist.checks[check].part for check in answered}
    traits = examined.inspection.instrument.traits
    asked = {c.part for c in checklist.checks.values() if applies(c, traits, checklist)}
    for id_, part in checklist.parts.items():
        if id_ in asked and id_ not in seen:
            yield _("{name}: nothing of it was looked at").format(name=part.name)
    tried = dict.fromkeys(r.check for r in standing if r.check not in answered)
    for check in tried:
        yield _("{title}: tried, without an answer").format(title=checklist.checks[check].title)
    beyond = [checklist.checks[check].title for check in dict.fromkeys(examined.advice.beyond)]
    if beyond:
        yield _("For want of time on this visit: {beyond}").format(
            beyond=listed_some(beyond, BEYOND)
        )
    yield from map(_, NOT_SEEN)
