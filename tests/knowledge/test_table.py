"""Rows of entries as data."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.knowledge.table import KINDS, Row, rows

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

EVERY_FORM = Path(__file__).parents[1] / "examples" / "good" / "every-form.yaml"


def by_id(found: tuple[Row, ...]) -> dict[tuple[str, str], Row]:
    return {(row.kind, row.id): row for row in found}


def test_every_entry_has_a_row(checklist: Callable[..., Checklist]) -> None:
    read = checklist(EVERY_FORM.read_text(encoding="utf-8"), "every-form")
    found = by_id(rows(read))
    assert {kind for kind, _ in found} == set(KINDS)
    assert len(found) == sum(
        len(entries)
        for entries in (
            read.faults, read.symptoms, read.checks, read.remedies, read.cautions, read.sources,
        )
    )  # fmt: skip


def test_the_facts_of_a_row(checklist: Callable[..., Checklist]) -> None:
    read = checklist(EVERY_FORM.read_text(encoding="utf-8"), "every-form")
    found = by_id(rows(read))
    assert found["fault", "bridge-lifting"] == Row(
        "fault",
        "bridge-lifting",
        "bridge",
        "Bridge opening",
        {
            "kind": "condition",
            "alone": 0.03,
            "harm": "serious",
            "pace": "months",
            "under_tension": "danger",
            "checks": 2,  # both by the gap that it causes
            "remedies": 1,
        },
    )
    assert found["symptom", "edge-gap"].facts == {
        "alone": 0.03, "caused_by": ("bridge-lifting",), "checks": 2,
    }  # fmt: skip
    assert found["check", "action"].facts == {
        "minutes": 1.0,
        "asked": "bench",
        "levels": ("very-low", "low", "normal", "high", "very-high"),
        "shows": ("neck-angle-lost",),
    }
    assert found["remedy", "reset"].facts == {
        "hours": 9.0, "stage": "lasting", "fixes": ("neck-angle-lost",),
    }  # fmt: skip
    assert found["caution", "hot"] == Row("caution", "hot", "", "Heat", {"hazard": "heat"})
    assert found["source", "book"].facts == {"kind": "handbook", "seen": "read"}


def test_only_some_kinds(checklist: Callable[..., Checklist]) -> None:
    read = checklist(EVERY_FORM.read_text(encoding="utf-8"), "every-form")
    assert [row.id for row in rows(read, ("remedy", "caution"))] == [
        "bridge-reglue", "reset", "hot", "sharp", "solvents",
    ]  # fmt: skip
