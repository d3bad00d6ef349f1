"""Which sources this report rests on, and whether anybody has read them.

In: `Examined`, the work that is offered and the cautions that apply. Out: `Source`s in the
checklist's order.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from tailblock.report.model import Source
from tailblock.report.plan import remedies
from tailblock.report.sentences import COMMON_PRACTICE, SEEN
from tailblock.report.wording import counted, listed

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from tailblock.knowledge.entries import Entry
    from tailblock.report.examined import Examined


def sources(
    examined: Examined, used: Mapping[str, tuple[str, ...]], argued: Iterable[str]
) -> tuple[Source, ...]:
    """Return the sources of what was read, argued, offered and warned of.

    Parameters
    ----------
    used
        The cautions that apply.
    argued
        Ids of the faults that are argued.
    """
    checklist = examined.checklist
    visits = examined.inspection.visits[: examined.visit + 1]
    read = dict.fromkeys(reading.check for visit in visits for reading in visit.readings)
    groups: tuple[tuple[str, Iterable[Entry]], ...] = (
        ("check", [checklist.checks[id_] for id_ in read]),
        ("cause", [checklist.faults[id_] for id_ in argued]),
        ("piece of work", remedies(examined)),
        ("safety note", [checklist.cautions[id_] for id_ in used]),
    )
    counts = {
        name: Counter(source for entry in entries for source in entry.sources)
        for name, entries in groups
    }
    return tuple(
        Source(
            citation=f"{source.citation}, {source.where}" if source.where else source.citation,
            seen=COMMON_PRACTICE if source.kind == "common-practice" else SEEN[source.seen],
            used_for=listed([counted(c[id_], name) for name, c in counts.items() if c[id_]]),
        )
        for id_, source in checklist.sources.items()
        if any(c[id_] for c in counts.values())
    )
