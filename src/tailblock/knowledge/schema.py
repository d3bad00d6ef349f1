"""JSON Schema of a checklist's files, so that an editor completes and checks them.

In: nothing but the models of the entries. Out: one schema (draft 2020-12) for both kinds of file:
`checklist.yaml`, known by its field `tailblock`, and files that hold sections only.
"""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import models_json_schema

from tailblock.knowledge.entries import ChecklistFile, Sections

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """Return the schema as plain data.

    It knows the form of each entry; what ties entries together is left to `lint`.
    """
    references, definitions = models_json_schema(
        [(ChecklistFile, "validation"), (Sections, "validation")]
    )
    return {
        "$schema": DRAFT,
        "title": "A file of a Tailblock checklist",
        "type": "object",
        "if": {"required": ["tailblock"]},
        "then": references[ChecklistFile, "validation"],
        "else": references[Sections, "validation"],
        **definitions,
    }
