"""The entries of a checklist as rows of a table.

In: a checklist, and which kinds are wanted. Out: rows as data; how they are printed is not decided
here.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.knowledge.coverage import direct, through
from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist

Fact = str | int | float | tuple[str, ...]
KINDS = ("fault", "symptom", "check", "remedy", "caution", "source")


@dataclass(frozen=True, slots=True)
class Row:
    """One entry: what it is, where it belongs, and the facts by which one looks it up."""

    kind: str
    id: str
    part: str
    name: str
    facts: Mapping[str, Fact]


def rows(checklist: Checklist, kinds: Collection[str] = KINDS) -> tuple[Row, ...]:
    """Return a row for each entry of the wanted kinds, in the order of the files."""
    return tuple(row for row in _all(checklist) if row.kind in kinds)


def _all(checklist: Checklist) -> Iterator[Row]:
    yield from _hidden(checklist)
    for check in checklist.checks.values():
        shows = tuple(dict.fromkeys(link.target for link in check.shows))
        facts: dict[str, Fact] = {
            "minutes": check.minutes,
            "asked": check.asked,
            "levels": levels_of(check).ids,
            "shows": shows,
        }
        yield Row("check", check.id, check.part, check.title, facts)
    for remedy in checklist.remedies.values():
        facts = {
            "hours": remedy.hours.likely,
            "stage": remedy.stage,
            "fixes": tuple(item.fault for item in remedy.fixes),
        }
        yield Row("remedy", remedy.id, remedy.part, remedy.name, facts)
    for caution in checklist.cautions.values():
        yield Row("caution", caution.id, "", caution.title, {"hazard": caution.hazard})
    for source in checklist.sources.values():
        facts = {"kind": source.kind, "seen": source.seen}
        yield Row("source", source.id, "", source.citation, facts)


def _hidden(checklist: Checklist) -> Iterator[Row]:
    """Yield faults and symptoms with how many checks show them and how many remedies fix them."""
    reached, shown = through(checklist), direct(checklist)
    fixed = Counter(
        fault
        for remedy in checklist.remedies.values()
        for fault in {item.fault for item in remedy.fixes}
    )
    for fault in checklist.faults.values():
        facts: dict[str, Fact] = {
            "kind": fault.kind,
            "alone": fault.alone,
            "harm": fault.harm,
            "pace": fault.pace,
            "under_tension": fault.under_tension,
            "checks": len(reached[fault.id]),
            "remedies": fixed[fault.id],
        }
        yield Row("fault", fault.id, fault.part, fault.name, facts)
    for symptom in checklist.symptoms.values():
        facts = {
            "alone": symptom.alone,
            "caused_by": tuple(cause.fault for cause in symptom.caused_by),
            "checks": len(shown.get(symptom.id, {})),
        }
        yield Row("symptom", symptom.id, symptom.part, symptom.name, facts)
