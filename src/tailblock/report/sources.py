"""Which sources this report rests on, and whether anybody has read them.

In: `Examined`, the work that is offered and the cautions that apply. Out: `Source`s in the
checklist's order.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from tailblock.messages import _
from tailblock.report.model import Source
from tailblock.report.plan import remedies
from tailblock.report.sentences import COMMON_PRACTICE, SEEN
from tailblock.report.wording import counted, listed

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

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
    groups: tuple[Iterable[Entry], ...] = (
        [checklist.checks[id_] for id_ in read],
        [checklist.faults[id_] for id_ in argued],
        remedies(examined),
        [checklist.cautions[id_] for id_ in used],
    )
    counts = [
        Counter(source for entry in entries for source in entry.sources) for entries in groups
    ]
    return tuple(
        Source(
            citation=f"{source.citation}, {source.where}" if source.where else source.citation,
            seen=_(COMMON_PRACTICE) if source.kind == "common-practice" else _(SEEN[source.seen]),
            used_for=listed([said for said in _used(id_, counts) if said]),
        )
        for id_, source in checklist.sources.items()
        if any(count[id_] for count in counts)
    )


def _used(source: str, counts: Sequence[Counter[str]]) -> Iterator[str]:
    """Yield how many checks, causes, pieces of work and safety notes rest on a source."""
    checks, causes, work, notes = (count[source] for count in counts)
    yield counted(checks, "{number} check", "{number} checks") if checks else ""
    yield counted(causes, "{number} cause", "{number} causes") if causes else ""
    yield counted(work, "{number} piece of work", "{number} pieces of work") if work else ""
    yield counted(notes, "{number} safety note", "{number} safety notes") if notes else ""
