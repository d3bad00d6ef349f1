"""What argues in the bench copy, as an outline: causes, faults together, what is not determined.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.report.outline import (
    Box,
    Items,
    Paragraph,
    Row,
    Run,
    Table,
    Title,
    cell,
    floating,
    items,
    paragraphs,
    small,
    strong,
)
from tailblock.report.pictures.evidence import EVIDENCE, evidence_picture
from tailblock.report.wording import (
    SPOKEN_AGAINST,
    UNMOVED,
    between,
    capital,
    clause,
    listed,
    not_listed,
    percent,
    signed,
    with_number,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.report.model import Cause, Report, Weight
    from tailblock.report.outline import Block, Line


def argued(report: Report) -> Iterator[Block]:
    """Yield the probable causes with their reasons, what goes together, what is open."""
    yield from _causes(report)
    yield from _together(report)
    yield from _open(report)


def _causes(report: Report) -> Iterator[Block]:
    found = report.causes
    yield Title(1, "Probable causes")
    yield Paragraph(small(found.method), leads=True)
    yield from paragraphs(found.steadiness)
    evidence = evidence_picture(found)
    if evidence:
        yield floating(evidence, EVIDENCE)
    yield from (Box(tuple(_argued(report, cause))) for cause in found.argued)
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
                        cell(signed(cause.decibans)),
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


def _argued(report: Report, cause: Cause) -> Iterator[Block]:
    swing = ""
    if cause.low is not None and cause.high is not None:
        swing = f"; {between(cause.low, cause.high)}"
    yield Title(2, with_number(report.portrait, cause.id, cause.plain))
    yield Paragraph(
        (
            Run(capital(cause.sure), "strong"),
            Run(
                f" ({percent(cause.probability)}){swing}; it began at {percent(cause.prior)}; all "
                f"readings together {signed(cause.decibans)} decibans."
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
        Run(f"{signed(one.decibans)} ", "strong"),
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
