"""The JSON Schema is a valid one and judges the form of files as the loader does.

Independent judge: the package jsonschema, on the data as an editor sees them (numbers and booleans
resolved by the YAML 1.2 core schema).
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tailblock.knowledge.library import shipped_roots
from tailblock.knowledge.schema import DRAFT, json_schema
from tailblock.knowledge.yamlmarks import read_marked

EXAMPLES = Path(__file__).parents[1] / "examples"
SCHEMA = json_schema()
JUDGE = Draft202012Validator(SCHEMA)
# Bad examples whose fault lies in the form of an entry, as a schema can tell.
OF_FORM = (
    "unknown-field", "unknown-section", "nested-unknown-field", "missing-field", "empty-field",
    "no-id", "bad-id", "bad-chance", "bad-choice-of-words", "bad-number", "newer-format",
)  # fmt: skip
# And those that only the loader or a rule can tell.
BEYOND_FORM = (
    "bad-hours",
    "choices-and-measure",
    "duplicate-id",
    "dangling-fault",
    "unit-of-limit",
)


def as_an_editor_sees_it(data: Any) -> Any:
    """Resolve plain scalars by the core schema: https://yaml.org/spec/1.2.2/#1032-tag-resolution."""
    if isinstance(data, dict):
        return {name: as_an_editor_sees_it(value) for name, value in data.items()}
    if isinstance(data, list):
        return [as_an_editor_sees_it(item) for item in data]
    if data in {"true", "false"}:
        return data == "true"
    if isinstance(data, str) and re.fullmatch(r"[-+]?[0-9]+", data):
        return int(data)
    if isinstance(data, str) and re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+\.[0-9]*)", data):
        return float(data)
    return data


def complaints(path: Path) -> list[str]:
    marked, problems = read_marked(path.read_bytes(), str(path))
    assert marked is not None, problems
    return [error.message for error in JUDGE.iter_errors(as_an_editor_sees_it(marked.data))]


def shipped() -> list[Path]:
    return sorted(path for root in shipped_roots() for path in root.rglob("*.yaml"))


def test_it_is_a_schema_of_the_draft_that_it_names() -> None:
    assert SCHEMA["$schema"] == DRAFT == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", sorted((EXAMPLES / "good").glob("*.yaml")), ids=lambda p: p.stem)
def test_it_accepts_good_examples(path: Path) -> None:
    assert complaints(path) == []


@pytest.mark.parametrize("path", shipped(), ids=lambda p: "-".join(p.parts[-2:]))
def test_it_accepts_what_is_shipped(path: Path) -> None:
    assert complaints(path) == []


@pytest.mark.parametrize("name", OF_FORM)
def test_it_refuses_a_wrong_form(name: str) -> None:
    assert complaints(EXAMPLES / "bad" / f"{name}.yaml")


@pytest.mark.parametrize("name", BEYOND_FORM)
def test_it_leaves_the_rest_to_lint(name: str) -> None:
    assert complaints(EXAMPLES / "bad" / f"{name}.yaml") == []


def test_a_file_of_sections_needs_no_head_and_has_none_of_its_fields() -> None:
    source = {"id": "a", "kind": "memory", "citation": "A", "seen": "from-memory"}
    assert JUDGE.is_valid({"sources": [source]})
    assert not JUDGE.is_valid({"sources": [source], "title": "A"})
    assert not JUDGE.is_valid({"tailblock": 1, "sources": [source]})


@pytest.mark.parametrize("field", ["fault", "symptom", "check", "remedy", "caution", "source"])
def test_an_editor_can_complete_every_kind_of_entry(field: str) -> None:
    definition = SCHEMA["$defs"][field.capitalize()]
    assert definition["additionalProperties"] is False
    assert "id" in definition["required"]
    assert definition["description"]
