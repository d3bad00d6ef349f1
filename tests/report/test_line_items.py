"""Line items of a whole option: planned work, and what to set aside for what may come to light."""

from __future__ import annotations

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from report.visits import HEAD, HOT_CAR
from tailblock.inspection import store
from tailblock.pipeline import Examined, examine
from tailblock.report.line_items import LineItem, line_items, to_csv
from tailblock.report.options import option_of

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist


@pytest.fixture(scope="module")
def examined(bench: Checklist) -> Examined:
    inspection = store.from_bytes((HEAD + HOT_CAR).encode(), Path("job.yaml"), lambda _: bench)
    return examine(bench, inspection)


@pytest.fixture(scope="module")
def items(examined: Examined) -> tuple[LineItem, ...]:
    option = option_of(examined.chosen)
    assert option is not None
    found = examined.hours_of(option.pieces)
    assert found is not None
    return line_items(examined, found)


def test_planned_work_comes_first(items: tuple[LineItem, ...]) -> None:
    kinds = [item.kind for item in items]
    assert kinds == sorted(kinds, key=["work", "allowance"].index)
    assert kinds.count("work") >= 2


def test_a_line_carries_what_the_checklist_says(
    examined: Examined, items: tuple[LineItem, ...]
) -> None:
    for item in items:
        remedy = examined.checklist.remedies[item.remedy]
        assert (item.cautions, item.materials) == (remedy.cautions, remedy.materials)
        assert (item.hours_low, item.hours_high) == (remedy.hours.low, remedy.hours.high)
        assert (item.material_allowance, item.currency) == ("", "")
        low, likely, high = item.hours_low, item.hours_likely, item.hours_high
        mean = (low + 4 * likely + high) / 6
        assert item.hours_average == pytest.approx(item.chance * mean, abs=0.01)


def test_no_cell_is_taken_for_a_formula(items: tuple[LineItem, ...]) -> None:
    odd = replace(items[0], name="=1+1", materials=("glue", 'a "thin" shim'), cautions=())
    (row,) = csv.DictReader(StringIO(to_csv((odd,)), newline=""))
    assert row["name"] == "'=1+1"
    assert row["materials"] == 'glue; a "thin" shim'
    assert row["cautions"] == ""
