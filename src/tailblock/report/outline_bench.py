"""The bench copy as an outline, up to what argues: the visit, grades, findings, changes.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import N_, _
from tailblock.report.outline import (
    Cell,
    Facts,
    Paragraph,
    Row,
    Run,
    Table,
    Title,
    cell,
    drawn,
    items,
    paragraphs,
    plain,
    small,
    strong,
)
from tailblock.report.outline_causes import argued
from tailblock.report.outline_compared import compared
from tailblock.report.outline_photos import photographs
from tailblock.report.outline_player import where
from tailblock.report.pictures.gauge import GAUGE, KEY_ROW, gauge_picture, key_picture
from tailblock.report.pictures.neck_line import neck_line
from tailblock.report.wording import (
    CLIMATE_METHOD,
    NECK_LINE,
    capital,
    listed,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Finding, Grade, PartGrade, Report
    from tailblock.report.outline import Block, Line, Style

NECK = 172.0  # width of the side view [mm]
STRUCK = N_("A reading that is struck through does not count, for the reason beside it.")


def evidence(report: Report) -> tuple[Block, ...]:
    """Return the pages that say what was found and what follows from it."""
    return (
        *_visit(report),
        *where(report),
        *_grades(report),
        *_findings(report),
        *photographs(report, "bench"),
        *_neck_line(report),
        *_agreement(report),
        *compared(report),
        *_climate(report),
        *argued(report),
    )


def _visit(report: Report) -> Iterator[Block]:
    head = report.heading
    told = [(_("Instrument"), head.instrument), (_("Job"), head.job), (_("Player"), head.player)]
    told.append((_("Looked at by"), head.by))
    told += [(fact.label, fact.text) for fact in (*head.state, *head.facts)]
    told.append((_("Note"), head.note))
    yield Title(1, _("The instrument and this visit"))
    yield Facts(tuple((label, plain(text)) for label, text in told if text))
    if report.work_done:
        yield Title(2, _("Work done so far"))
        yield from items(report.work_done)


def _grades(report: Report) -> Iterator[Block]:
    yield Title(1, _("Grades part by part"))
    if not report.grades:
        yield from paragraphs(_("No part of this checklist is graded."))
        return
    yield Table(
        (_("Part"), _("Condition"), _("Urgency"), _("Why")),
        (15, 15, 17, 53),
        tuple(Row(_graded(part)) for part in report.grades),
        _("Condition and urgency of each part, and the rules that fired"),
    )
    meanings = dict.fromkeys(
        f"{name}{_step(grade)}, {grade.word}: {grade.meaning}."
        for part in report.grades
        for name, grade in ((_("Condition"), part.condition), (_("Urgency"), part.urgency))
    )
    yield Paragraph(small(" ".join(sorted(meanings))))


def _step(grade: Grade) -> str:
    return "" if grade.value is None else f" {grade.value}"


def _graded(part: PartGrade) -> tuple[Cell, ...]:
    why = [
        f"{capital(grade.rule)}{f' ({listed(grade.because)})' if grade.because else ''}."
        for grade in (part.condition, part.urgency)
    ]
    return (
        Cell((strong(part.part),)),
        cell(f"{_step(part.condition)} {part.condition.word}".strip()),
        cell(f"{_step(part.urgency)} {part.urgency.word}".strip()),
        cell(" ".join(why)),
    )


def _findings(report: Report) -> Iterator[Block]:
    yield Title(1, _("Findings"))
    if not report.findings:
        yield from paragraphs(_("No reading has been taken yet."))
    else:
        if report.measured:
            yield drawn(key_picture("bench"), KEY_ROW, leads=True)
        yield Paragraph(small(_(STRUCK)), leads=True)
        rows = []
        for part in report.findings:
            rows.append(Row((Cell((strong(part.part),)),), "heads"))
            for finding in part.findings:
                rows.append(Row(_found(finding)))
                if finding.note:
                    note = (small(_("Note: ")) + small(finding.note),)
                    rows.append(Row((Cell(note),), "note"))
        head = (_("Check"), _("Reading"), _("Normal"), _("Means"))
        yield Table(head, (30, 32, 18, 20), tuple(rows), _("All readings, part by part"))
    if report.confirmed:
        yield Title(2, _("Seen with one's own eyes"))
        yield from items(report.confirmed)


def _found(finding: Finding) -> tuple[Cell, ...]:
    style: Style = "struck" if finding.silent else "plain"
    read = [finding.written] if finding.written else []
    if finding.value:
        read.append(f"{finding.value} ± {finding.uncertainty}")
    lines: list[Line] = [(Run(text, style),) for text in read]
    if finding.silent:
        lines.append(small(_("does not count, because {silent}").format(silent=finding.silent)))
    lines += [small(remark) for remark in finding.remarks]
    gauge = finding.gauge
    picture = drawn(gauge_picture(finding.check, gauge), GAUGE) if gauge else None
    off = finding.abnormal and not finding.silent
    return (
        cell(finding.check, finding.visit, finding.setup),
        Cell(tuple(lines), picture),
        cell(finding.normal),
        Cell((strong(finding.level) if off else plain(finding.level),)),
    )


def _neck_line(report: Report) -> Iterator[Block]:
    shown = report.neck_line
    if shown:
        yield Title(1, _(NECK_LINE))
        yield drawn(neck_line(shown), NECK)
        yield Facts(tuple((one.letter, plain(one.text)) for one in shown.heights))
        yield Paragraph(small(" ".join(shown.remarks)))


def _agreement(report: Report) -> Iterator[Block]:
    crossed = report.cross_checks
    if crossed is None:
        return
    yield Title(1, _("Do the readings agree with one another?"))
    yield from paragraphs(*crossed.said)
    yield Table(
        (_("Check"), _("Read"), _("The others imply"), _("Difference")),
        (28, 24, 24, 24),
        tuple(
            Row(
                (
                    cell(row.check),
                    cell(row.read),
                    cell(row.implied),
                    Cell((strong(row.difference), small(_("take it again"))))
                    if row.take_again
                    else cell(row.difference),
                )
            )
            for row in crossed.rows
        ),
        _("Readings beside what the others imply for them"),
    )
    yield from (Paragraph(small(text)) for text in (crossed.usual, crossed.method) if text)


def _climate(report: Report) -> Iterator[Block]:
    if report.climate:
        yield Title(1, _("What does the climate explain?"))
        yield from items(tuple(change.text for change in report.climate))
        yield Paragraph(small(_(CLIMATE_METHOD)))
