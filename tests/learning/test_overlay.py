"""Proposed chances as a checklist: it loads, lints, and says what was proposed and nothing else."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.knowledge import traits
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.lint import lint
from tailblock.knowledge.loader import load
from tailblock.learning.overlay import IsThere, NotAnId, overlay, require_free, write_overlay
from tailblock.learning.proposals import Chance, says
from tailblock.network.written import Written, value_of

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

FLAT_TOP = shipped("flat-top")


def learned(written: Written, after: float) -> Chance:
    before = value_of(written, FLAT_TOP)
    said = says(written, FLAT_TOP)
    return Chance(written, said, before, after, after / 2, after * 1.2, 61.0, 43.2, proposed=True)


def made(folder: Path, *changes: Chance) -> Checklist:
    write_overlay(folder, overlay(FLAT_TOP, folder.name, changes, cases=212, strength=20.0))
    loaded = load(folder, Shelves())
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    assert not loaded.problems
    return loaded.checklist


def test_a_starting_chance_and_a_link_change_and_nothing_else(tmp_path: Path) -> None:
    place = [cause.fault for cause in FLAT_TOP.faults["bridge-lifting"].caused_by].index(
        "bridge-warped"
    )
    link, alone = Written("bridge-lifting", cause=place), Written("strings-worn")
    ours = made(tmp_path / "ours", learned(link, 0.42), learned(alone, 0.3))
    assert value_of(link, ours) == 0.42
    assert value_of(alone, ours) == 0.3
    for node in FLAT_TOP.nodes():
        same = ours.fault_or_symptom(node.id)
        if node.id == "bridge-lifting":
            changed = node.caused_by[place].model_copy(update={"strength": 0.42})
            links = (*node.caused_by[:place], changed, *node.caused_by[place + 1 :])
            assert same == node.model_copy(update={"caused_by": links})
        elif node.id == "strings-worn":
            assert same == node.model_copy(update={"alone": 0.3})
        else:
            assert same == node
    assert dict(ours.checks) == dict(FLAT_TOP.checks)
    before = {(p.rule, p.message) for p in lint(FLAT_TOP)}
    assert {(p.rule, p.message) for p in lint(ours)} <= before


def test_each_change_says_what_it_rests_on() -> None:
    text = overlay(FLAT_TOP, "ours", [learned(Written("strings-worn"), 0.33)], cases=9, strength=20)
    assert "from 9 confirmed cases" in text
    assert "# strings-worn alone: was often, now 0.33 (nearest word: sometimes)" in text
    assert "#   43 trials, met 61 times; 90 % interval 0.17 to 0.4" in text


WITH_SHIFTS = [n.id for n in FLAT_TOP.nodes() if any(r.shift is not None for r in n.alone_when)]


@pytest.mark.parametrize("entry", WITH_SHIFTS)
def test_where_words_are_shifted_all_other_traits_keep_their_chances(
    entry: str, tmp_path: Path
) -> None:
    """Every combination of the traits that its rules name, before and after one cell changes."""
    node = FLAT_TOP.fault_or_symptom(entry)
    shifted = next(i for i, rule in enumerate(node.alone_when) if rule.shift is not None)
    changed = Written(entry, rules=(shifted,))
    ours = made(tmp_path / "ours", learned(changed, 0.0123))
    named = dict.fromkeys(trait for rule in node.alone_when for trait in rule.when)
    for values in product(*(FLAT_TOP.traits[trait].values for trait in named)):
        known = dict(zip(named, values, strict=True))
        cells = traits.alone_rules(node, known, FLAT_TOP)
        expected = sum(
            weight * (0.0123 if rules == changed.rules else traits.alone_under(node, rules))
            for rules, weight in cells
        )
        after = traits.alone(ours.fault_or_symptom(entry), known, ours)
        assert after == pytest.approx(expected, abs=1e-12), known


def test_nothing_proposed_is_a_checklist_that_changes_nothing(tmp_path: Path) -> None:
    ours = made(tmp_path / "ours")
    assert dict(ours.faults) == dict(FLAT_TOP.faults)


def test_a_folder_that_is_there_or_no_id_is_refused(tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    with pytest.raises(IsThere):
        write_overlay(tmp_path / "ours", "")
    with pytest.raises(NotAnId):
        require_free(tmp_path / "My Shop")
