"""Vignettes before two checklists."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

import pytest

from tailblock.errors import ProblemsFound
from tailblock.practice.format import NoVignettes
from tailblock.practice.ranked import ranked

if TYPE_CHECKING:
    from pathlib import Path

    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist


def test_a_checklist_ranks_as_itself(bench: Checklist, write: Write) -> None:
    (only,) = ranked(bench, bench, write().parent)
    assert only.old is not None
    assert only.old.first[0] == "bridge-lifting"
    assert not only.differs


def test_another_lead_is_a_difference(bench: Checklist, write: Write) -> None:
    """With light shown by nothing, the reading raises nothing."""
    check = bench.checks["edge-look"].model_copy(update={"shows": ()})
    blind = replace(bench, checks=MappingProxyType({**bench.checks, "edge-look": check}))
    (only,) = ranked(bench, blind, write().parent)
    assert only.differs
    assert (only.old and only.old.first[:1], only.new and only.new.first) == (
        ("bridge-lifting",),
        (),
    )


def test_a_case_that_one_of_them_cannot_take_says_why(bench: Checklist, write: Write) -> None:
    without = {id_: check for id_, check in bench.checks.items() if id_ != "edge-look"}
    (only,) = ranked(bench, replace(bench, checks=MappingProxyType(without)), write().parent)
    assert only.new is None
    assert "edge-look" in only.because
    both = replace(bench, checks=MappingProxyType(without))
    with pytest.raises(ProblemsFound, match="edge-look"):
        list(ranked(both, both, write().parent))


def test_a_folder_without_vignettes_is_a_mistake(bench: Checklist, tmp_path: Path) -> None:
    with pytest.raises(NoVignettes):
        list(ranked(bench, bench, tmp_path / "none"))
