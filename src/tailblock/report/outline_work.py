"""The rest of the bench copy as an outline: safety, what to look at next, the work, the appendix.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

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

SAFETY_FIRST = (
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
    yield Title(1, "Safety first")
    yield Paragraph(small(SAFETY_FIRST), leads=True)
    yield from (Paragraph(strong(line)) for line in safety.assumed)
    if safety.conflicts:
        yield Box((Title(2, "Never together"), *items(safety.conflicts)), "warn")
    for note in safety.notes:
        yield Box(
            (
                Title(2, f"{note.number}. {note.title}"),
                *paragraphs(note.text),
                *items(note.controls, numbered=True),
                Paragraph(small(f"Before: {listed(note.applies_to)}.")),
            )
        )
    if not safety.notes:
        yield from paragraphs(
            "Nothing that is recommended here carries a hazard of its own in this checklist."
        )
    if safety.steps:
        yield Title(2, "In working order, the controls before the step")
        yield Table(
            ("Read first", "Then"),
            (62, 38),
            tuple(Row(_step(n, step)) for n, step in enumerate(safety.steps, start=1)),
            "Looks and work in working order, with the notes that come before each",
        )
    yield from items(safety.deference)


def _step(number: int, step: SafetyStep) -> tuple[Cell, ...]:
    before = "; ".join(f"{note.label}. {note.text}" for note in step.controls) or "no note"
    return cell(before), cell(
        f"{number}. {step.step}", "only if it is found" if step.if_found else ""
    )


def _next(report: Report) -> Iterator[Block]:
    yield Title(1, "What to look at next")
    yield from paragraphs(report.enough)
    if report.next_checks:
        yield Table(
            ("Check", "Takes", "Why"),
            (32, 18, 50),
            tuple(Row(_look(n, check)) for n, check in enumerate(report.next_checks, start=1)),
            "Checks that are worth doing, in their order",
        )
        yield from paragraphs(report.unlisted)
    elif not report.enough:
        yield from paragraphs("No unread check is left that could be done now.")


def _look(number: int, check: NextCheck) -> tuple[Cell, ...]:
    condition = f" ({check.condition})" if check.condition else ""
    before = (strong(f"First read safety {notes(check.cautions)}"),) if check.cautions else ()
    there = (
        f", and {minutes(check.setup_minutes)} to get there ({check.state})"
        if check.setup_minutes
        else ""
    )
    return (
        Cell((*before, plain(f"{number}. {check.check}{condition}"))),
        cell(f"{minutes(check.minutes)}{there}"),
        cell(capital(check.reason), f"Trap: {check.trap}" if check.trap else ""),
    )


def _held(report: Report) -> Iterator[Block]:
    if not (report.held or report.accepted):
        return
    yield Title(1, "Held back")
    for held in report.held:
        state = "Accepted by a person: " if held.accepted else "Not yet: "
        yield Box(
            (
                Paragraph((Run(state), Run("; ".join(held.moves), "strong"))),
                *paragraphs(f"Because of: {listed(held.because)}. {held.clear_with}"),
            )
        )
    for entry in report.accepted:
        when = f" ({entry.at})" if entry.at else ""
        yield Box(
            (
                Paragraph((Run("Going on all the same: "), Run(entry.fault, "strong"))),
                *paragraphs(f"{entry.by}{when}: {entry.why}"),
                Paragraph(
                    small("The probabilities are what they were; only the decision is theirs.")
                ),
            ),
            "warn",
        )


def _work(report: Report) -> Iterator[Block]:
    plan = report.plan
    yield Title(1, "Recommended work, in stages")
    yield Paragraph(small(plan.threshold))
    yield Title(2, "Do nothing")
    yield from paragraphs(*plan.leave)
    if plan.follows:
        yield leading("What then follows:")
        yield from items(plan.follows)
    for offer in plan.offers:
        yield Title(2, offer.title)
        yield leading(f"{offer.promise} {offer.takes}. {offer.says}")
        if offer.leaves:
            yield from paragraphs(f"It leaves: {'; '.join(offer.leaves)}.")
        if offer.returns:
            yield from paragraphs(f"May come back: {'; '.join(offer.returns)}.")
        yield from (Box(tuple(_piece(work))) for work in offer.works)
    if not plan.offers:
        yield from paragraphs("No work is recommended.")
    if plan.watch:
        yield Title(2, "Watch")
        yield from items(plan.watch)
    if plan.without_work:
        yield Title(2, "Likely, and nothing is done about it")
        yield from items(plan.without_work)
    if plan.look_first:
        yield from paragraphs(f"{LOOK_FIRST}: {listed(plan.look_first)}.")
    yield from items(plan.terms)


def _piece(work: Work) -> Iterator[Block]:
    yield Title(3, f"{work.name} ({work.part})")
    if work.cautions:
        yield Paragraph(strong(f"Before this step read safety {notes(work.cautions)}."))
    yield from paragraphs(work.plain)
    marks = "Only if it is found. " if work.if_found else ""
    marks += "Stopping point: you decide before it goes on. " if work.stop_point else ""
    spent = " / ".join(hours(one) for one in (work.hours.low, work.hours.likely, work.hours.high))
    wait = f"; waiting: {work.wait}" if work.wait else ""
    undone = "can" if work.reversible else "cannot"
    yield Paragraph((Run(marks), Run(spent, "strong"), Run(f"{wait}; it {undone} be undone.")))
    figures = (*(one.text for one in work.figures), work.figures_from)
    rows = (
        ("Why", work.reason),
        ("Deals with", "; ".join(work.deals_with)),
        ("How much", ". ".join(filter(None, figures))),
        ("Then", work.asked_again),
        ("Opened", "; ".join(work.access)),
        ("Needs first", listed(work.needs_first) if work.needs_first else ""),
        ("May reveal", "; ".join(work.may_reveal)),
        ("May leave behind", "; ".join(work.may_leave)),
        ("May come back", ". ".join(one.text for one in work.returns)),
        ("Other ways", listed(work.instead, "or") if work.instead else ""),
        ("Look again", "; ".join(work.watch)),
        ("Materials", listed(work.materials) if work.materials else ""),
    )
    shown = tuple((label, plain(text)) for label, text in rows if text)
    if shown:
        yield Facts(shown)


def _ending(report: Report) -> Iterator[Block]:
    head = report.heading
    yield Title(1, "What was not looked at")
    yield from items(report.not_looked_at)
    yield Title(1, "Sources")
    if report.sources:
        yield from items(
            tuple(f"{one.citation} ({one.seen}): {one.used_for}" for one in report.sources)
        )
    else:
        yield from paragraphs("The entries behind this report name no source.")
    yield from _basis(report)
    yield Title(1, "About this report")
    yield Paragraph(small(report.appendix.again))
    yield Facts(
        (
            ("Checklist", plain(f"{head.checklist}, version {head.checklist_version}")),
            ("Its digest", small(head.checklist_digest)),
            ("Inspection file", small(head.file_digest)),
            ("Engine", plain(f"tailblock {head.engine}. {report.first_page.exactness}")),
        )
    )


def _basis(report: Report) -> Iterator[Block]:
    yield Title(1, "What the values and rules rest on")
    yield Table(
        ("What", "Value", "Marked", "From"),
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
        "Values and formulas, and where each is from",
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
