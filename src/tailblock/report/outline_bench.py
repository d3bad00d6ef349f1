"""The bench copy as an outline, up to what argues: the visit, grades, findings, causes.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.outline import (
    Box,
    Cell,
    Facts,
    Items,
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
from tailblock.report.outline_compared import compared
from tailblock.report.pictures.evidence import EVIDENCE, evidence_picture
from tailblock.report.pictures.gauge import GAUGE, KEY_ROW, gauge_picture, key_picture
from tailblock.report.wording import (
    CLIMATE_METHOD,
    SPOKEN_AGAINST,
    UNMOVED,
    between,
    capital,
    clause,
    listed,
    not_listed,
    percent,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Cause, Finding, Grade, PartGrade, Report, Weight
    from tailblock.report.outline import Block, Line, Style

STRUCK = "A reading that is struck through does not count, for the reason beside it."


def evidence(report: Report) -> tuple[Block, ...]:
    """Return the pages that say what was found and what follows from it."""
    return (
        *_visit(report),
        *_grades(report),
        *_findings(report),
        *_agreement(report),
        *compared(report),
        *_climate(report),
        *_causes(report),
        *_together(report),
        *_open(report),
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
                    rows.append(Row((Cell((small(f"Note: {finding.note}"),)),), "note"))
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


def _causes(report: Report) -> Iterator[Block]:
    found = report.causes
    yield Title(1, "Probable causes")
    yield Paragraph(small(found.method), leads=True)
    yield from paragraphs(found.steadiness)
    evidence = evidence_picture(found)
    if evidence:
        yield drawn(evidence, EVIDENCE)
    yield from (Box(tuple(_argued(cause))) for cause in found.argued)
    if not found.argued:
        yield from paragraphs("No fault stands out from its starting chance.")
    if found.others:
        yield Title(2, "Not argued here")
        yield Table(
            ("Fault", "Part", "How sure", "Now", "Start", "Decibans"),
            (36, 20, 14, 10, 10, 10),
            tuple(
                Row(
                    (
                        cell(cause.name),
                        cell(cause.part),
                        cell(cause.sure),
                        cell(percent(cause.probability)),
                        cell(percent(cause.prior)),
                        cell(f"{cause.decibans:+.1f}"),
                    )
                )
                for cause in found.others
            ),
            "Faults that are likely enough to be named and are not argued",
        )
    for told, names in ((UNMOVED, found.unmoved), (SPOKEN_AGAINST, found.spoken_against)):
        if names:
            yield Paragraph(small(f"{told}: {listed(names)}."))
    if found.below:
        yield Paragraph(small(found.below))


def _argued(cause: Cause) -> Iterator[Block]:
    swing = ""
    if cause.low is not None and cause.high is not None:
        swing = f"; {between(cause.low, cause.high)}"
    yield Title(2, cause.plain)
    yield Paragraph(
        (
            Run(capital(cause.sure), "strong"),
            Run(
                f" ({percent(cause.probability)}){swing}; it began at {percent(cause.prior)}; all "
                f"readings together {cause.decibans:+.1f} decibans."
            ),
        )
    )
    alone = f" Left alone: {clause(cause.left_alone)}." if cause.left_alone else ""
    yield Paragraph(
        small(
            f"At the bench: {cause.name} ({cause.part}). {capital(cause.under_tension)}; "
            f"{cause.pace}.{alone}"
        )
    )
    for told, weights in (("For it", cause.in_favour), ("Against it", cause.against)):
        if weights:
            yield Paragraph(strong(told))
            yield Items(tuple(_weight(one) for one in weights))
    yield from paragraphs(not_listed(cause))
    if cause.brought_about_by:
        yield from paragraphs(f"Probably brought about by: {listed(cause.brought_about_by)}.")
    if cause.settles:
        yield from paragraphs(f"What would settle it: {clause(cause.settles)}.")


def _weight(one: Weight) -> Line:
    reading = f": {clause(one.reading)}" if one.reading else ""
    visit = f" ({one.visit})" if one.visit else ""
    return (
        Run(f"{one.decibans:+.1f} ", "strong"),
        Run(f"{one.check}{reading}{visit} "),
        Run(f"({one.means})", "small"),
    )


def _together(report: Report) -> Iterator[Block]:
    joint = report.together
    yield Title(1, "Which faults together")
    yield Paragraph(small(joint.method))
    if joint.leading:
        if joint.asked:
            yield Paragraph(small(f"In question: {'; '.join(joint.asked)}."))
        all_ = "all of these" if joint.leading.faults else "none of them"
        yield from paragraphs(f"With a chance of {percent(joint.leading.probability)} {all_}:")
        covers = [
            f"{one.fault} (covers: {'; '.join(one.readings) or 'no reading by itself'})"
            for one in joint.leading.faults
        ]
        if joint.leading.uncovered:
            covers.append(f"Covered by none of them: {'; '.join(joint.leading.uncovered)}")
        yield from items(tuple(covers))
    if joint.others:
        yield from paragraphs("Or else:")
        others = []
        for other in joint.others:
            also = f"also {'; '.join(other.added)}" if other.added else ""
            without = f"without {'; '.join(other.left_out)}" if other.left_out else ""
            difference = "; ".join(filter(None, (also, without)))
            others.append(f"{percent(other.probability)}: {difference}")
        yield from items(tuple(others))
    if joint.surprising:
        yield from paragraphs("Surprising, so read them again:")
        yield from items(joint.surprising)
    yield from paragraphs(joint.outside)


def _open(report: Report) -> Iterator[Block]:
    yield Title(1, "Not determined, and what would settle it")
    if not report.open:
        yield from paragraphs("No fault that matters stands between likely and unlikely.")
    yield from items(
        tuple(
            f"{entry.plain} ({entry.name}; {entry.sure}, {percent(entry.probability)}) Settled "
            f"by: {clause(entry.settled_by)}."
            for entry in report.open
        )
    )
