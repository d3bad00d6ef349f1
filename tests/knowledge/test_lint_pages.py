"""Every rule's manual page: its first example passes the rule, its second one fails it.

The examples leave out what does not matter; it is filled in here before they are loaded.
"""

from __future__ import annotations

import json
import re
import textwrap
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

import pytest

from tailblock.knowledge import lint
from tailblock.knowledge.yamlmarks import read_marked

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist

SOURCE = {"kind": "memory", "citation": "From memory", "seen": "from-memory"}
TEXTS = {"part": "bridge", "name": "Name", "sources": ["some"]}
FILLED: dict[str, dict[str, Any]] = {
    "parts": {"name": "Name"},
    "traits": {"ask": "Which?"},
    "stages": {"budget": "12 min"},
    "faults": {
        **TEXTS, "plain": "Plain", "alone": "seldom", "harm": "serious", "pace": "years",
        "under_tension": "fine",
    },
    "symptoms": {**TEXTS, "alone": "rarely"},
    "checks": {
        "part": "bridge", "sources": ["some"], "title": "Title", "ask": "Yes?", "how": "Look.",
        "minutes": "1",
    },
    "families": {},
    "geometry": {},
    "arithmetic": {},
    "remedies": {
        **TEXTS, "plain": "Plain", "hours": {"low": "1", "likely": "2", "high": "3"},
        "reversible": "true", "fixes": [{"fault": "any", "how_well": "often"}],
    },
    "cautions": {"sources": ["some"], "title": "Title", "text": "Text.", "controls": ["Mind it."]},
    "sources": SOURCE,
}  # fmt: skip
MEASURE: dict[str, Any] = {
    "quantity": "length",
    "unit": "mm",
    "possible": {},
    "gauge": {"resolution": "0.1", "repeatability": "0.1"},
}
RULES = sorted(lint.RULES)


def module_of(rule: str) -> ModuleType:
    module = getattr(lint, rule.replace("-", "_"))
    assert isinstance(module, ModuleType)
    return module


def examples(rule: str) -> dict[str, str]:
    """Return the example that passes and the one that fails."""
    page = (module_of(rule).__doc__ or "") + "\n"
    found = re.findall(r"^(Passes|Fails):\n\n((?: {4}.*\n|\n)+)", page, re.MULTILINE)
    return {name: textwrap.dedent(text) for name, text in found}


def filled(text: str) -> str:
    """Return an example as a whole checklist, everything that it leaves out put in."""
    marked, problems = read_marked(text, "example")
    assert marked is not None, problems
    data: dict[str, Any] = {"tailblock": "1", "id": "small", "title": "T", "version": "1"}
    data |= marked.data  # type: ignore[arg-type]  # the examples are mappings
    data.setdefault("parts", [{"id": "bridge"}])
    for section, fields in FILLED.items():
        if section in data:
            data[section] = [{**fields, **entry} for entry in data[section]]
    data["sources"] = [*data.get("sources", []), {"id": "some", **SOURCE}]
    for check in data.get("checks", []):
        if "measure" in check:
            measure = check["measure"] = {**MEASURE, **check["measure"]}
            if measure["quantity"] == "angle":
                measure["gauge"] = {"resolution": "0.1", "repeatability": "0.1"}
            if not {"levels", "normal"} & set(measure):
                limit = f"2 {measure['unit']}"
                measure["levels"] = [{"level": "usual", "up_to": limit}, {"level": "more"}]
        else:
            levels = ("no", "yes")
            check.setdefault("choices", [{"level": level, "text": level} for level in levels])
    return json.dumps(data, indent=1)


@pytest.mark.parametrize("rule", RULES)
def test_the_example_that_passes(rule: str, checklist: Callable[[str], Checklist]) -> None:
    read = checklist(filled(examples(rule)["Passes"]))
    found = [problem for problem in lint.RULES[rule](read) if problem.entry != "some"]
    assert [str(problem) for problem in found] == []


@pytest.mark.parametrize("rule", RULES)
def test_the_example_that_fails(rule: str, checklist: Callable[[str], Checklist]) -> None:
    read = checklist(filled(examples(rule)["Fails"]))
    found = list(lint.RULES[rule](read))
    assert {problem.rule for problem in found} == {rule}
    assert all(problem.message for problem in found)


def test_the_table_has_every_module_of_a_rule() -> None:
    folder = Path(lint.__file__ or "").parent
    modules = {path.stem for path in folder.glob("*.py")} - {"__init__", "walk", "profiles"}
    assert {rule.replace("-", "_") for rule in lint.RULES} == modules


def test_sound_rules_are_among_the_rules() -> None:
    assert lint.SOUND.items() <= lint.RULES.items()
