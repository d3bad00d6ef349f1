"""JSON Schema of a report as JSON, so that another program knows what it may rely on.

In: nothing but the model of the report. Out: one schema (draft 2020-12) for both copies: the
player's copy has some of the fields of the bench copy, and no others.
"""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from tailblock.knowledge.schema import DRAFT
from tailblock.report.model import FORMAT, PLAYERS_FIELDS, Report


def json_schema() -> dict[str, Any]:
    """Return the schema as plain data; a field that it does not name is an error."""
    made = TypeAdapter(Report).json_schema(mode="serialization")
    definitions = made.pop("$defs")
    del definitions["Photo"]["properties"]["jpeg"]  # a picture is not in it, see `to_json`
    for definition in (made, *definitions.values()):
        definition["additionalProperties"] = False
    made["properties"] = {"tailblock": {"const": FORMAT}, **made["properties"]}
    made["required"] = ["tailblock", *PLAYERS_FIELDS]
    return {
        "$schema": DRAFT,
        **made,
        "title": "A report of Tailblock",
        "anyOf": [
            {"required": sorted(made["properties"])},
            {"maxProperties": len(made["required"])},
        ],
        "$defs": definitions,
    }
