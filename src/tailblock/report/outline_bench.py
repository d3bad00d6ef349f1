"""The bench copy as an outline, up to what argues: the visit, grades, findings, changes.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

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
STRUCK = "A reading that is struck through does not count, for the reason beside it."


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
    told = [("Instrument", head.instrument), ("Job", head.job), ("Player", head.player)]
    told.append(("Looked at by", head.by))
    told += [(fact.label, fact.text) for fact in (*head.state, *head.facts)]
    told.append(("Note", head.note))
    yield Title(1, "The instrument and this visit")
    yield Facts(tuple((label, plain(text)) for label, text in told if text))
    if report.work_done:
        yield Title(2, "Work done so far")
        yield from items(report.work_done)


def _grades(report: Report) -> Iterator[Block]:
    yield Title(1, "Grades part by part")
    if not report.grades:
        yield from paragraphs("No part of this checklist is graded.")
        return
    yield Table(
        ("Part", "Condition", "Urgency", "Why"),
        (15, 15, 17, 53),
        tuple(Row(_graded(part)) for part in report.grades),
        "Condition and urgency of each part, and the rules that fired",
    )
    meanings = dict.fromkeys(
        f"{name}{_step(grade)}, {grade.word}: {grade.meaning}."
        for part in report.grades
        for name, grade in (("Condition", part.condition), ("Urgency", part.urgency))
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
    yield Title(1, "Findings")
    if not report.findings:
        yield from paragraphs("No reading has been taken yet.")
    else:
        if report.measured:
            yield drawn(key_picture("bench"), KEY_ROW, leads=True)
        yield Paragraph(small(STRUCK), leads=True)
        rows = []
        for part in report.findings:
            rows.append(Row((Cell((strong(part.part),)),), "heads"))
            for finding in part.findings:
                rows.append(Row(_found(finding)))
                if finding.note:
                    rows.append(Row((Cell((small("Note: ") + small(finding.note),)),), "note"))
        head = ("Check", "Reading", "Normal", "Means")
        yield Table(head, (30, 32, 18, 20), tuple(rows), "All readings, part by part")
    if report.confirmed:
        yield Title(2, "Seen with one's own eyes")
        yield from items(report.confirmed)


def _found(finding: Finding) -> tuple[Cell, ...]:
    style: Style = "struck" if finding.silent else "plain"
    read = [finding.written] if finding.written else []
    if finding.value:
        read.append(f"{finding.value} ± {finding.uncertainty}")
    lines: list[Line] = [(Run(text, style),) for text in read]
    if finding.silent:
        lines.append(small(f"does not count, because {finding.silent}"))
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
        yield Title(1, NECK_LINE)
        yield drawn(neck_line(shown), NECK)
        yield Facts(tuple((one.letter, plain(one.text)) for one in shown.heights))
        yield Paragraph(small(" ".join(shown.remarks)))


def _agreement(report: Report) -> Iterator[Block]:
    crossed = report.cross_checks
    if crossed is None:
        return
    yield Title(1, "Do the readings agree with one another?")
    yield from paragraphs(*crossed.said)
    yield Table(
        ("Check", "Read", "The others imply", "Difference"),
        (28, 24, 24, 24),
        tuple(
            Row(
                (
                    cell(row.check),
                    cell(row.read),
                    cell(row.implied),
                    Cell((strong(row.difference), small("take it again")))
                    if row.take_again
                    else cell(row.difference),
                )
            )
            for row in crossed.rows
        ),
        "Readings beside what the others imply for them",
    )
    yield from (Paragraph(small(text)) for text in (crossed.usual, crossed.method) if text)


def _climate(report: Report) -> Iterator[Block]:
    if report.climate:
        yield Title(1, "What does the climate explain?")
        yield from items(tuple(change.text for change in report.climate))
        yield Paragraph(small(CLIMATE_METHOD))
