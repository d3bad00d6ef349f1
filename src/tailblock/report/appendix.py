"""Sources and method: what each value and each rule in a report rests on, and how it was made.

In: `Examined`, the plan. Out: `Appendix`. A value counts as published only if its entry names a
publication; all else is marked as a rule of the trade or as from memory.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import SURE
from tailblock.advice.waiting import FIRM, IF_FOUND
from tailblock.measures.figures import FIGURES
from tailblock.messages import N_, _
from tailblock.report.conventions import number
from tailblock.report.measured import ruler
from tailblock.report.model import Appendix, Basis, Marked
from tailblock.report.plan import remedies
from tailblock.report.sentences import ARITHMETIC, COMMON_PRACTICE, OWN_RULE, SAME_AGAIN, SEEN
from tailblock.report.wording import percent

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from tailblock.knowledge.entries import Entry
    from tailblock.report.examined import Examined
    from tailblock.report.model import Plan

PUBLISHED = N_("published")
PARTLY = N_("published in part")
RULE = N_("rule of the trade")
MEMORY = N_("from memory")
FORMULA = N_("formula")
NO_SOURCE = N_("no source named")
_WEAK = frozenset({"common-practice", "memory"})


def appendix(
    examined: Examined,
    used: Mapping[str, tuple[str, ...]],
    argued: Sequence[str],
    plan: Plan,
) -> Appendix:
    """Return what the values and the rules of a report rest on.

    Parameters
    ----------
    used
        The cautions that apply.
    argued
        Ids of the faults that are argued.
    plan
        The work that is offered, with its figures.
    """
    return Appendix(
        values=(*_limits(examined), *_figures(plan), *_constants(examined)),
        rules=tuple(_rules(examined, used, argued)),
        again=_(SAME_AGAIN),
    )


def _limits(examined: Examined) -> Iterator[Basis]:
    """Yield what counts as normal for each measured check that was read, and where it is from."""
    checklist = examined.checklist
    traits = examined.inspection.instrument.traits
    for id_ in _read(examined):
        check = checklist.checks[id_]
        if check.measure is None:
            continue
        normal = ruler(check, check.measure, traits, checklist).normal_words
        formula = FIGURES[check.derived].source if check.derived else ""
        rests_on = [*_citations(examined, check)]
        rests_on += [_("computed: {formula}").format(formula=formula)] if formula else []
        yield Basis(
            check.title,
            _("normal: {normal}").format(normal=normal),
            _(_mark(examined, check)),
            tuple(rests_on),
        )


def _read(examined: Examined) -> Iterable[str]:
    """Return the checks that spoke on any visit so far, those that were computed among them."""
    return dict.fromkeys(spoken.check for heard in examined.heard for spoken in heard.spoken)


def _figures(plan: Plan) -> Iterator[Basis]:
    """Yield the formulas behind the figures that stand beside the work."""
    works = (work for offer in plan.offers for work in offer.works)
    for name in dict.fromkeys(figure.figure for work in works for figure in work.figures):
        figure = FIGURES[name]
        yield Basis(
            _(ARITHMETIC.get(name, figure.about)), figure.formula, _(FORMULA), (figure.source,)
        )


def _constants(examined: Examined) -> Iterator[Basis]:
    """Yield the limits by which this report decides; they are nobody's measurement."""
    limits = examined.checklist.limits
    yield Basis(_("A danger is open above"), percent(limits.danger), _(MEMORY), (_(OWN_RULE),))
    yield Basis(
        _("A look is worth its minutes from"),
        _("{number} bits a minute").format(number=number(f"{limits.stop_bits_per_minute:g}")),
        _(MEMORY),
        (_(OWN_RULE),),
    )
    yield Basis(
        _("Work is offered from"),
        _("{firm}; with heat or solvents {sure}; if it is found {if_found}").format(
            firm=percent(FIRM), sure=percent(SURE), if_found=percent(IF_FOUND)
        ),
        _(MEMORY),
        (_(OWN_RULE),),
    )


def _rules(
    examined: Examined,
    used: Mapping[str, tuple[str, ...]],
    argued: Sequence[str],
) -> Iterator[Marked]:
    """Yield every entry that the report rests on, by its kind and by what stands behind it."""
    checklist = examined.checklist
    spoke = [checklist.checks[id_] for id_ in _read(examined)]
    kinds: tuple[tuple[str, list[tuple[str, Entry]]], ...] = (
        (
            _("Checks"),
            [(check.title, check) for check in spoke],
        ),
        (_("Causes"), [(checklist.faults[id_].name, checklist.faults[id_]) for id_ in argued]),
        (_("Work"), [(remedy.name, remedy) for remedy in remedies(examined)]),
        (_("Safety"), [(checklist.cautions[id_].title, checklist.cautions[id_]) for id_ in used]),
    )
    for kind, entries in kinds:
        for mark in (PUBLISHED, PARTLY, RULE, MEMORY, NO_SOURCE):
            names = tuple(name for name, entry in entries if _mark(examined, entry) == mark)
            if names:
                yield Marked(kind, _(mark), names)


def _mark(examined: Examined, entry: Entry) -> str:
    """Return what stands behind an entry; a publication counts only if somebody has read it."""
    sources = [examined.checklist.sources[id_] for id_ in entry.sources]
    read = [source.kind not in _WEAK and source.seen == "read" for source in sources]
    if any(read):
        return PUBLISHED if all(read) else PARTLY
    if any(source.kind == "common-practice" for source in sources):
        return RULE
    return MEMORY if sources else NO_SOURCE


def _citations(examined: Examined, entry: Entry) -> Iterator[str]:
    for id_ in entry.sources:
        source = examined.checklist.sources[id_]
        seen = _(COMMON_PRACTICE) if source.kind == "common-practice" else _(SEEN[source.seen])
        yield f"{source.citation} ({seen})"
