"""The first page and the player's copy as an outline.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.letterhead import head
from tailblock.report.outline import (
    Box,
    Columns,
    Facts,
    Items,
    Paragraph,
    Run,
    Title,
    drawn,
    items,
    leading,
    paragraphs,
    plain,
    small,
    strong,
)
from tailblock.report.outline_hours import HOW_MANY, price
from tailblock.report.outline_photos import photographs
from tailblock.report.pictures.gauge import GAUGE, KEY_ROW, gauge_picture, key_picture
from tailblock.report.pictures.instrument.draw import instrument
from tailblock.report.wording import (
    WHERE,
    capital,
    clause,
    day,
    hours,
    marked,
    percent,
    shortened,
    with_number,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Grade, Heading, PlainMeasured, PlainWork, PlayersPage, Report
    from tailblock.report.outline import Block, Line

PORTRAIT = 85.0  # width of the drawing of the instrument [mm]
BENCH_FOLLOWS = N_("What follows is for the bench.")
OPINION = N_("An opinion on condition on that day, not an appraisal.")


def first_page(report: Report, *, bench: bool) -> tuple[Block, ...]:
    """Return the first page, which is the same in both copies but for its last line."""
    page = report.first_page
    follows = f"{_(BENCH_FOLLOWS)} " if bench else ""
    return (
        *head(report),
        Title(1, shortened(report.heading.instrument)),
        Paragraph(small(" · ".join(_whose(report.heading)))),
        *(Paragraph((Run(sentence, "lead"),)) for sentence in page.verdict),
        *paragraphs(page.exactness if page.approximate else ""),
        Columns(
            (Box(_grade(_("Condition"), page.condition, 3, page.undetermined)),),
            (Box(_grade(_("Urgency"), page.urgency, 4, "")),),
        ),
        Box(tuple(_stringing(page)), "calm" if page.stringing.answer == "yes" else "warn"),
        *_wrong(page),
        Columns(
            (
                Title(2, _("What must be done first?")),
                *items(page.first, numbered=True),
                Title(2, _("What is not known yet?")),
                *items(page.unknown),
            ),
            (
                Title(2, _("What can be done, and in how many hours?")),
                Items(
                    tuple(
                        (Run(f"{choice.title}: "), Run(choice.takes, "strong"))
                        for choice in page.choices
                    )
                ),
                *((Paragraph(small(page.choices_note)),) if page.choices_note else ()),
                Title(2, _("What not to do at home")),
                *items(page.not_at_home),
            ),
        ),
        Paragraph(small(f"{page.how_to_read} {follows}{_(OPINION)}")),
    )


def _whose(head: Heading) -> Iterator[str]:
    yield _("Inspection report · job {job}").format(job=shortened(head.job))
    if head.player:
        yield _("for {player}").format(player=shortened(head.player))
    yield head.visit
    yield day(head.day)
    if head.by:
        yield _("looked at by {by}").format(by=shortened(head.by))


def _grade(title: str, grade: Grade, top: int, rest: str) -> tuple[Block, ...]:
    step = (
        "" if grade.value is None else _(" ({value} of {top})").format(value=grade.value, top=top)
    )
    why = _("Why: {plain}.{more}").format(plain=grade.plain, more=f" {rest}." if rest else "")
    return (
        Paragraph((Run(f"{title}: "), Run(grade.word, "strong"), Run(step))),
        Paragraph(small(why)),
    )


def _stringing(page: PlayersPage) -> Iterator[Block]:
    answer = page.stringing
    yield Title(2, _("May it be strung and brought to pitch?"))
    yield Paragraph(strong(answer.headline))
    yield from paragraphs(answer.why)
    if answer.clear_with:
        yield from paragraphs(
            _("Looks that would clear it: {clear_with}.").format(clear_with=answer.clear_with)
        )
    yield from (Paragraph(strong(line)) for line in answer.accepted)


def _wrong(page: PlayersPage) -> Iterator[Block]:
    yield Title(2, _("What is wrong, and how sure is that?"))
    if page.matters:
        yield Items(
            tuple(
                said(matter.plain, matter.sure, matter.probability, _alone(matter.left_alone))
                for matter in page.matters
            ),
            numbered=True,
        )
    else:
        yield from paragraphs(_("Nothing that matters stands out from what was looked at."))
    yield from paragraphs(page.slack, page.also)


def _alone(text: str) -> str:
    return _(" Left alone: {text}.").format(text=clause(text)) if text else ""


def said(text: str, sure: str, probability: float, rest: str) -> Line:
    """Return a text with how sure it is, as a phrase and as a number."""
    return (
        Run(f"{text} "),
        Run(capital(sure), "strong"),
        Run(f" ({percent(probability)}).{rest}"),
    )


def players_copy(report: Report) -> tuple[Block, ...]:
    """Return the player's pages after the first."""
    return (
        *where(report),
        *_found(report),
        *_changed(report),
        *photographs(report, "player"),
        *_work(report),
        *_keeping(report),
    )


def where(report: Report) -> Iterator[Block]:
    """Yield the drawing of the instrument with what its numbers mean beside it."""
    shown = report.portrait
    if shown is None:
        return
    yield Title(1, _(WHERE))
    yield Columns(
        (drawn(instrument(shown), PORTRAIT),),
        (
            *items(tuple(marked(mark) for mark in shown.marks), numbered=True),
            *(Paragraph(small(line)) for line in shown.taken),
        ),
    )


def _found(report: Report) -> Iterator[Block]:
    copy = report.players_copy
    yield Title(1, _("What is wrong, or may be"))
    if copy.measured:
        yield drawn(key_picture("player"), KEY_ROW, leads=True)
    for cause in copy.wrong:
        yield Box(
            (
                Title(2, with_number(report.portrait, cause.id, cause.plain)),
                Paragraph(
                    (
                        Run(capital(cause.sure), "strong"),
                        Run(f" ({percent(cause.probability)}). {cause.part}."),
                    )
                ),
                *paragraphs(cause.goes_on),
                *_measured(cause.measured),
            )
        )
    if not copy.wrong:
        yield from paragraphs(_("Nothing that matters stands out from what was looked at."))
    if copy.open:
        yield Title(1, _("What is not settled, and how it is found out"))
        yield Items(
            tuple(
                said(entry.plain, entry.sure, entry.probability, f" {entry.found_out}")
                for entry in copy.open
            )
        )


def _measured(found: PlainMeasured | None) -> Iterator[Block]:
    if found:
        yield Paragraph(small(found.text), leads=True)
        yield drawn(gauge_picture(found.check, found.gauge), GAUGE)


def _changed(report: Report) -> Iterator[Block]:
    changes = report.players_copy.changes
    if changes is None:
        return
    if changes.since:
        yield Title(1, _("What has changed"))
    yield from paragraphs(changes.since)
    yield from items(changes.said)
    if changes.again:
        yield Title(2 if changes.since else 1, _("When to look again"))
        yield from items(changes.again)


def _work(report: Report) -> Iterator[Block]:
    copy = report.players_copy
    yield Title(1, _("What can be done about it"))
    yield Title(2, _("Do nothing"))
    yield from paragraphs(*copy.leave)
    for offer in copy.offers:
        yield Title(2, offer.title)
        yield leading(offer.promise)
        yield from (Box(_piece(work)) for work in offer.works)
    if not copy.offers:
        yield from paragraphs(_("No work is recommended."))
    yield from items(copy.terms)
    if copy.hours:
        yield Title(1, _(HOW_MANY))
        yield from paragraphs(*copy.hours)
    if copy.money:
        yield from price(copy.money)


def _piece(work: PlainWork) -> tuple[Block, ...]:
    marks = [_("Only if another look calls for it.")] if work.if_found else []
    marks += [_("You decide before it goes on.")] if work.stop_point else []
    spent = _("{low} to {high}").format(low=hours(work.hours.low), high=hours(work.hours.high))
    return (
        Paragraph((Run(" ".join((*marks, ""))), Run(work.plain)) if marks else plain(work.plain)),
        Paragraph(
            (
                Run(spent, "strong"),
                Run(
                    _(", most often {likely}. {remarks}").format(
                        likely=hours(work.hours.likely), remarks=" ".join(work.remarks)
                    )
                ),
            )
        ),
    )


def _keeping(report: Report) -> Iterator[Block]:
    copy = report.players_copy
    yield Title(1, _("How to keep it until then") if copy.offers else _("How to keep it"))
    yield from items(copy.keep)
    yield Title(1, _("What was not looked at, or not enough"))
    yield from paragraphs(f"{'. '.join(copy.unseen)}.")
    if copy.glossary:
        yield Title(1, _("The words used here"))
        words = tuple((entry.label, plain(entry.text)) for entry in copy.glossary)
        yield Facts(words, leads=True)  # the notice never stands alone on a page
    *first, last = (small(line) for line in copy.notice)
    yield from (Paragraph(line, leads=True) for line in first)
    yield Paragraph(last)
