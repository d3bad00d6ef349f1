"""Fixtures of this folder: a checklist and a visit from YAML text."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import pytest
import yaml

from tailblock.advice.situation import Situation, situation_of
from tailblock.inspection.answers import understand
from tailblock.inspection.record import Instrument, Reading, Visit
from tailblock.inspection.speaks import hear
from tailblock.knowledge.loader import load
from tailblock.knowledge.yamlmarks import Place

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tailblock.knowledge.checklist import Checklist

HERE = Place("a file", 1, 1)
HEAD = """
tailblock: 1
id: bench
title: A bench
version: 1.0.0
"""


@pytest.fixture(scope="session")
def read_checklist(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Checklist]:
    """Return a reader of checklists without their head, once for all examples of a property."""

    def read(text: str) -> Checklist:
        folder = tmp_path_factory.mktemp("bench")
        (folder / "checklist.yaml").write_text(HEAD + text, encoding="utf-8")
        loaded = load(folder)
        assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
        return loaded.checklist

    return read


def _visit_of(checklist: Checklist, text: str) -> Visit:
    """Read a visit as an inspection file writes it: stage, setup, readings."""
    # every scalar is the characters as written, as in the files
    data: dict[str, Any] = yaml.load(text, yaml.BaseLoader)  # noqa: S506  (makes texts only)
    setup: Mapping[str, str] = data.get("setup", {"strings": "slack"})
    visit_setup = setup
    readings = []
    for entry in data.get("readings", ()):
        setup = {**setup, **entry.get("setup", {})}
        check = checklist.checks[entry["check"]]
        readings.append(
            Reading(
                check.id,
                entry["value"],
                understand(check, entry["value"]),
                setup,
                HERE,
                retracted=entry.get("retracted") == "true",
            )
        )
    return Visit(
        data.get("stage", "arrival"),
        date(2031, 3, 2),
        HERE,
        setup=visit_setup,
        readings=tuple(readings),
        since=data.get("since"),
    )


@pytest.fixture(scope="session")
def situation() -> Callable[..., Situation]:
    """Return a reader of visits: where a visit stands, on an instrument with these traits."""

    def read(checklist: Checklist, text: str = "{}", **traits: str) -> Situation:
        instrument = Instrument("a guitar", traits, scale_length=648.0)
        visit = _visit_of(checklist, text)
        return situation_of(checklist, instrument, visit, hear(checklist, instrument, visit))

    return read
