"""The published schema of a report as JSON: every report keeps to it, and it allows no other."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from jsonschema import Draft202012Validator

from pictures import plain
from tailblock.inspection.picture import picture_of
from tailblock.report.model import Photo
from tailblock.report.schema import json_schema
from tailblock.report.to_json import to_json

if TYPE_CHECKING:
    from tailblock.report.model import Copy, Report

SCHEMA = json_schema()


def _complaints(data: Any) -> list[str]:
    return [error.message for error in Draft202012Validator(SCHEMA).iter_errors(data)]


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("copy", ["player", "bench"])
@pytest.mark.parametrize("state", ["hot_car", "sound", "unread"])
def test_every_report_keeps_to_it(request: pytest.FixtureRequest, state: str, copy: Copy) -> None:
    report: Report = request.getfixturevalue(state)
    assert _complaints(json.loads(to_json(report, copy=copy))) == []


def test_a_photograph_is_named_without_its_picture(hot_car: Report) -> None:
    data = json.loads(to_json(hot_car))
    picture = picture_of(plain())
    photo = Photo(1, "", "Top", "Top", "a.jpg", picture.digest, 64, 48, picture.jpeg)
    assert set(data["photos"][0]) == set(SCHEMA["$defs"]["Photo"]["properties"])
    assert "jpeg" not in data["photos"][0]
    assert photo.jpeg


def test_what_is_missing_or_new_is_a_complaint(hot_car: Report) -> None:
    whole = json.loads(to_json(hot_car))
    assert _complaints({name: value for name, value in whole.items() if name != "grades"})
    assert _complaints({name: value for name, value in whole.items() if name != "heading"})
    assert _complaints({**whole, "new": 1})
    assert _complaints({**whole, "tailblock": 2})
    assert _complaints({**whole, "grades": 1})
