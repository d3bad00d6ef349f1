"""Sources and method: what each value and each rule in a report rests on, and how it was made.

In: `Examined`, the plan. Out: `Appendix`. A value counts as published only if its entry names a
publication; all else is marked as a rule of the trade or as from memory.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.choose_work import FIRM, IF_FOUND
from tailblock.advice.ranking import SURE
from tailblock.measures.figures import FIGURES
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

PUBLISHED = "published"
PARTLY = "published in part"
RULE = "rule of the trade"
MEMORY = "from memory"
NO_SOURCE = "no source named"
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
        again=SAME_AGAIN,
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
        rests_on += [f"computed: {formula}"] if formula else []
        yield Basis(check.title, f"normal: {normal}", _mark(examined, check), tuple(rests_on))


def _read(examined: Examined) -> Iterable[str]:
    """Return the checks that spoke on any visit so far, those that were computed among them."""
    return dict.fromkeys(spoken.check for heard in examined.heard for spoken in heard.spoken)


def _figures(plan: Plan) -> Iterator[Basis]:
    """Yield the formulas behind the figures that stand beside the work."""
    works = (work for offer in plan.offers for work in offer.works)
    for name in dict.fromkeys(figure.figure for work in works for figure in work.figures):
        figure = FIGURES[name]
        yield Basis(ARITHMETIC.get(name, figure.about), figure.formula, "formula", (figure.source,))


def _constants(examined: Examined) -> Iterator[Basis]:
    """Yield the limits by which this report decides; they are nobody's measurement."""
    limits = examined.checklist.limits
    yield Basis("A danger is open above", percent(limits.danger), MEMORY, (OWN_RULE,))
    yield Basis(
        "A look is worth its minutes from",
        f"{limits.stop_bits_per_minute:g} bits a minute",
        MEMORY,
        (OWN_RULE,),
    )
    yield Basis(
        "Work is offered from",
        f"{percent(FIRM)}; with heat or solvents {percent(SURE)}; if it is found "
        f"{percent(IF_FOUND)}",
        MEMORY,
        (OWN_RULE,),
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
            "Checks",
            [(check.title, check) for check in spoke],
        ),
        ("Causes", [(checklist.faults[id_].name, checklist.faults[id_]) for id_ in argued]),
        ("Work", [(remedy.name, remedy) for remedy in remedies(examined)]),
        ("Safety", [(checklist.cautions[id_].title, checklist.cautions[id_]) for id_ in used]),
    )
    for kind, entries in kinds:
        for mark in (PUBLISHED, PARTLY, RULE, MEMORY, NO_SOURCE):
            names = tuple(name for name, entry in entries if _mark(examined, entry) == mark)
            if names:
                yield Marked(kind, mark, names)


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
        seen = COMMON_PRACTICE if source.kind == "common-practice" else SEEN[source.seen]
        yield f"{source.citation} ({seen})"
