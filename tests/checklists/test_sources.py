"""A source that was read says how: nobody had more in hand than an excerpt of a stored copy."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist


def test_what_was_read_says_that_it_was_an_excerpt(flat_top: Checklist) -> None:
    for source in flat_top.sources.values():
        told = (source.where or "").startswith(
            ("read as a stored excerpt", "read as stored excerpts")
        )
        assert told == (source.seen == "read"), source.id


def test_each_of_them_carries_an_entry(flat_top: Checklist) -> None:
    read = [source.id for source in flat_top.sources.values() if source.seen == "read"]
    assert len(read) >= 25
    used = {
        source
        for entries in (
            flat_top.faults,
            flat_top.symptoms,
            flat_top.checks,
            flat_top.remedies,
            flat_top.cautions,
        )
        for entry in entries.values()
        for source in entry.sources
    }
    assert set(read) <= used  # none is there for show
