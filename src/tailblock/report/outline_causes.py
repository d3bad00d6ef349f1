"""What argues in the bench copy, as an outline: causes, faults together, what is not determined.

In: a `Report`. Out: blocks. Nothing is worded here but titles and what joins two texts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.messages import _
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
    yield Title(1, _("Probable causes"))
    yield Paragraph(small(found.method), leads=True)
    yield from paragraphs(found.steadiness)
    evidence = evidence_picture(found)
    if evidence:
        yield floating(evidence, EVIDENCE)
    yield from (Box(tuple(_argued(report, cause))) for cause in found.argued)
    if not found.argued:
        yield from paragraphs(_("No fault stands out from its starting chance."))
    if found.others:
        yield Title(2, _("Not argued here"))
        yield Table(
            (_("Fault"), _("Part"), _("How sure"), _("Now"), _("Start"), _("Decibans")),
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
            _("Faults that are likely enough to be named and are not argued"),
        )
    for told, names in ((_(UNMOVED), found.unmoved), (_(SPOKEN_AGAINST), found.spoken_against)):
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
                _(
                    " ({probability}){swing}; it began at {prior}; all readings "
                    "together {decibans} decibans."
                ).format(
                    probability=percent(cause.probability),
                    swing=swing,
                    prior=percent(cause.prior),
                    decibans=signed(cause.decibans),
                )
            ),
        )
    )
    alone = (
        _(" Left alone: {left_alone}.").format(left_alone=clause(cause.left_alone))
        if cause.left_alone
        else ""
    )
    yield Paragraph(
        small(
            _("At the bench: {name} ({part}). {under_tension}; {pace}.{alone}").format(
                name=cause.name,
                part=cause.part,
                under_tension=capital(cause.under_tension),
                pace=cause.pace,
                alone=alone,
            )
        )
    )
    for told, weights in ((_("For it"), cause.in_favour), (_("Against it"), cause.against)):
        if weights:
            yield Paragraph(strong(told))
            yield Items(tuple(_weight(one) for one in weights))
    yield from paragraphs(not_listed(cause))
    if cause.brought_about_by:
        yield from paragraphs(
            _("Probably brought about by: {brought_about_by}.").format(
                brought_about_by=listed(cause.brought_about_by)
            )
        )
    if cause.settles:
        yield from paragraphs(
            _("What would settle it: {settles}.").format(settles=clause(cause.settles))
        )


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
    yield Title(1, _("Which faults together"))
    yield Paragraph(small(joint.method))
    if joint.leading:
        if joint.asked:
            yield Paragraph(small(_("In question: {asked}.").format(asked="; ".join(joint.asked))))
        all_ = _("all of these") if joint.leading.faults else _("none of them")
        yield from paragraphs(
            _("With a chance of {probability} {all_}:").format(
                probability=percent(joint.leading.probability), all_=all_
            )
        )
        covers = [
            _("{fault} (covers: {value})").format(
                fault=one.fault, value="; ".join(one.readings) or _("no reading by itself")
            )
            for one in joint.leading.faults
        ]
        if joint.leading.uncovered:
            covers.append(
                _("Covered by none of them: {uncovered}").format(
                    uncovered="; ".join(joint.leading.uncovered)
                )
            )
        yield from items(tuple(covers))
    if joint.others:
        yield from paragraphs(_("Or else:"))
        others = []
        for other in joint.others:
            also = _("also {added}").format(added="; ".join(other.added)) if other.added else ""
            without = (
                _("without {left_out}").format(left_out="; ".join(other.left_out))
                if other.left_out
                else ""
            )
            difference = "; ".join(filter(None, (also, without)))
            others.append(f"{percent(other.probability)}: {difference}")
        yield from items(tuple(others))
    if joint.surprising:
        yield from paragraphs(_("Surprising, so read them again:"))
        yield from items(joint.surprising)
    yield from paragraphs(joint.outside)


def _open(report: Report) -> Iterator[Block]:
    yield Title(1, _("Not determined, and what would settle it"))
    if not report.open:
        yield from paragraphs(_("No fault that matters stands between likely and unlikely."))
    yield from items(
        tuple(
            _("{plain} ({name}; {sure}, {probability}) Settled by: {settled_by}.").format(
                plain=entry.plain,
                name=entry.name,
                sure=entry.sure,
                probability=percent(entry.probability),
                settled_by=clause(entry.settled_by),
            )
            for entry in report.open
        )
    )
