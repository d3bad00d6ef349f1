"""The rest of the bench copy as an outline: safety, what to look at next, the work, the appendix.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.outline import (
    Box,
    Cell,
    Facts,
    NewPage,
    Paragraph,
    Row,
    Run,
    Table,
    Title,
    cell,
    items,
    leading,
    paragraphs,
    plain,
    small,
    strong,
)
from tailblock.report.outline_hours import hours_of_work
from tailblock.report.wording import (
    LOOK_FIRST,
    capital,
    hours,
    listed,
    minutes,
    notes,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import NextCheck, Report, SafetyStep, Work
    from tailblock.report.outline import Block

SAFETY_FIRST = N_(
    "Read before any of the steps that follow. The controls of each note are in working order."
)


def how_to_go_on(report: Report) -> tuple[Block, ...]:
    """Return the pages that say how to go on, safety before the steps."""
    return (
        *_safety(report),
        *_next(report),
        *_held(report),
        *_work(report),
        *hours_of_work(report),
        *_ending(report),
    )


def _safety(report: Report) -> Iterator[Block]:
    safety = report.safety
    yield NewPage()  # a sheet of its own, for the wall
    yield Title(1, _("Safety first"))
    yield Paragraph(small(_(SAFETY_FIRST)), leads=True)
    yield from (Paragraph(strong(line)) for line in safety.assumed)
    if safety.conflicts:
        yield Box((Title(2, _("Never together")), *items(safety.conflicts)), "warn")
    for note in safety.notes:
        yield Box(
            (
                Title(2, f"{note.number}. {note.title}"),
                *paragraphs(note.text),
                *items(note.controls, numbered=True),
                Paragraph(
                    small(_("Before: {applies_to}.").format(applies_to=listed(note.applies_to)))
                ),
            )
        )
    if not safety.notes:
        yield from paragraphs(
            _("Nothing that is recommended here carries a hazard of its own in this checklist.")
        )
    if safety.steps:
        yield Title(2, _("In working order, the controls before the step"))
        yield Table(
            (_("Read first"), _("Then")),
            (62, 38),
            tuple(Row(_step(n, step)) for n, step in enumerate(safety.steps, start=1)),
            _("Looks and work in working order, with the notes that come before each"),
        )
    yield from items(safety.deference)


def _step(number: int, step: SafetyStep) -> tuple[Cell, ...]:
    before = "; ".join(f"{note.label}. {note.text}" for note in step.controls) or _("no note")
    return cell(before), cell(
        f"{number}. {step.step}", _("only if another look calls for it") if step.if_found else ""
    )


def _next(report: Report) -> Iterator[Block]:
    yield Title(1, _("What to look at next"))
    yield from paragraphs(report.enough)
    if report.next_checks:
        yield Table(
            (_("Check"), _("Takes"), _("Why")),
            (32, 18, 50),
            tuple(Row(_look(n, check)) for n, check in enumerate(report.next_checks, start=1)),
            _("Checks that are worth doing, in their order"),
        )
        yield from paragraphs(report.unlisted)
    elif not report.enough:
        yield from paragraphs(_("No unread check is left that could be done now."))


def _look(number: int, check: NextCheck) -> tuple[Cell, ...]:
    condition = f" ({check.condition})" if check.condition else ""
    before = (
        (strong(_("First read safety {cautions}").format(cautions=notes(check.cautions))),)
        if check.cautions
        else ()
    )
    there = (
        _(", and {setup_minutes} to get there ({state})").format(
            setup_minutes=minutes(check.setup_minutes), state=check.state
        )
        if check.setup_minutes
        else ""
    )
    return (
        Cell((*before, plain(f"{number}. {check.check}{condition}"))),
        cell(f"{minutes(check.minutes)}{there}"),
        cell(
            capital(check.reason), _("Trap: {trap}").format(trap=check.trap) if check.trap else ""
        ),
    )


def _held(report: Report) -> Iterator[Block]:
    if not (report.held or report.accepted):
        return
    yield Title(1, _("Held back"))
    for held in report.held:
        state = _("Accepted by a person: ") if held.accepted else _("Not yet: ")
        yield Box(
            (
                Paragraph((Run(state), Run("; ".join(held.moves), "strong"))),
                *paragraphs(
                    _("Because of: {because}. {clear_with}").format(
                        because=listed(held.because), clear_with=held.clear_with
                    )
                ),
            )
        )
    for entry in report.accepted:
        when = f" ({entry.at})" if entry.at else ""
        yield Box(
            (
                Paragraph((Run(_("Going on all the same: ")), Run(entry.fault, "strong"))),
                *paragraphs(f"{entry.by}{when}: {entry.why}"),
                Paragraph(
                    small(_("The probabilities are what they were; only the decision is theirs."))
                ),
            ),
            "warn",
        )


def _work(report: Report) -> Iterator[Block]:
    plan = report.plan
    yield Title(1, _("Recommended work, in stages"))
    yield Paragraph(small(plan.threshold))
    yield Title(2, _("Do nothing"))
    yield from paragraphs(*plan.leave)
    if plan.follows:
        yield leading(_("What then follows:"))
        yield from items(plan.follows)
    for offer in plan.offers:
        yield Title(2, offer.title)
        yield leading(f"{offer.promise} {capital(offer.takes)}. {offer.says}")
        if offer.leaves:
            yield from paragraphs(_("It leaves: {leaves}.").format(leaves="; ".join(offer.leaves)))
        if offer.returns:
            yield from paragraphs(
                _("May come back: {returns}.").format(returns="; ".join(offer.returns))
            )
        yield from (Box(tuple(_piece(work))) for work in offer.works)
    if not plan.offers:
        yield from paragraphs(_("No work is recommended."))
    if plan.watch:
        yield Title(2, _("Watch"))
        yield from items(plan.watch)
    if plan.without_work:
        yield Title(2, _("Likely, and nothing is done about it"))
        yield from items(plan.without_work)
    if plan.look_first:
        yield from paragraphs(f"{_(LOOK_FIRST)}: {listed(plan.look_first)}.")
    yield from items(plan.terms)


def _piece(work: Work) -> Iterator[Block]:
    yield Title(3, f"{work.name} ({work.part})")
    if work.cautions:
        yield Paragraph(
            strong(
                _("Before this step read safety {cautions}.").format(cautions=notes(work.cautions))
            )
        )
    yield from paragraphs(work.plain)
    marks = _("Only if another look calls for it. ") if work.if_found else ""
    marks += _("Stopping point: you decide before it goes on. ") if work.stop_point else ""
    spent = " / ".join(hours(one) for one in (work.hours.low, work.hours.likely, work.hours.high))
    wait = _("; waiting: {wait}").format(wait=work.wait) if work.wait else ""
    undone = _("it can be undone") if work.reversible else _("it cannot be undone")
    yield Paragraph((Run(marks), Run(spent, "strong"), Run(f"{wait}; {undone}.")))
    figures = (*(one.text for one in work.figures), work.figures_from)
    rows = (
        (_("Why"), work.reason),
        (_("Deals with"), "; ".join(work.deals_with)),
        (_("How much"), ". ".join(filter(None, figures))),
        (_("Then"), work.asked_again),
        (_("Opened"), "; ".join(work.access)),
        (_("Needs first"), listed(work.needs_first) if work.needs_first else ""),
        (_("May reveal"), capital("; ".join(work.may_reveal))),
        (_("May leave behind"), "; ".join(work.may_leave)),
        (_("May come back"), ". ".join(one.text for one in work.returns)),
        (_("Other ways"), listed(work.instead, N_("or")) if work.instead else ""),
        (_("Look again"), "; ".join(work.watch)),
        (_("Materials"), listed(work.materials) if work.materials else ""),
    )
    shown = tuple((label, plain(text)) for label, text in rows if text)
    if shown:
        yield Facts(shown)


def _ending(report: Report) -> Iterator[Block]:
    head = report.heading
    yield Title(1, _("What was not looked at"))
    yield from items(report.not_looked_at)
    yield Title(1, _("Sources"))
    if report.sources:
        yield from items(
            tuple(f"{one.citation} ({one.seen}): {one.used_for}" for one in report.sources)
        )
    else:
        yield from paragraphs(_("The entries behind this report name no source."))
    yield from _basis(report)
    yield Title(1, _("About this report"))
    yield Paragraph(small(report.appendix.again))
    yield Facts(
        (
            (
                _("Checklist"),
                plain(
                    _("{checklist}, version {checklist_version}").format(
                        checklist=head.checklist, checklist_version=head.checklist_version
                    )
                ),
            ),
            (_("Its digest"), small(head.checklist_digest)),
            (_("Inspection file"), small(head.file_digest)),
            (
                _("Engine"),
                plain(
                    _("tailblock {engine}. {exactness}").format(
                        engine=head.engine, exactness=report.first_page.exactness
                    )
                ),
            ),
        )
    )


def _basis(report: Report) -> Iterator[Block]:
    yield Title(1, _("What the values and rules rest on"))
    yield Table(
        (_("What"), _("Value"), _("Marked"), _("From")),
        (22, 22, 14, 42),
        tuple(
            Row(
                (
                    cell(basis.what),
                    cell(basis.value),
                    cell(basis.mark),
                    Cell((small("; ".join(basis.rests_on)),)),
                )
            )
            for basis in report.appendix.values
        ),
        _("Values and formulas, and where each is from"),
    )
    yield from (
        Paragraph(
            (
                Run(f"{one.entries}, {one.mark}: ", "strong"),
                Run("; ".join(one.names), "small"),
            )
        )
        for one in report.appendix.rules
    )
