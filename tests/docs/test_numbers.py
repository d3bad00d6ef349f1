"""The numbers that docs/how-the-numbers-work.md shows, worked out again by the engine."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from tailblock.inference import Reasoner
from tailblock.network.arrays import Evidence, Finding, Network, Side

PAGE = (Path(__file__).parents[2] / "docs" / "how-the-numbers-work.md").read_text(encoding="utf-8")
ALONE, SHOWN, LEAK = 0.10, 0.80, 0.03
NO_SIDE = Side((), np.empty((0, 1)), np.ones(1))


def side(parent: int) -> Side:
    return Side((parent,), np.array([[1.0 - SHOWN, 1.0]]), np.array([1.0 - LEAK, 1.0]))


def opposed(low: Side) -> Network:
    """Fault A (0) raises, fault B (1) lowers."""
    return Network(np.full(2, ALONE), ((), ()), ((), ()), (Finding(low, side(0)),))


def table(first_column: str) -> dict[str, float]:
    """Return the rows of the table whose first column is headed so."""
    _, after = PAGE.split(f"| {first_column} |")
    rows = re.findall(r"^\| ([^|-][^|]*) \| ([\d.]+) \|$", after.split("\n\n")[0], re.MULTILINE)
    return {name: float(value) for name, value in rows}


OPPOSED = {
    "cannot be there (the checklist has no such fault)": (NO_SIDE, {}),
    "may be there": (side(1), {}),
    "was seen to be absent": (side(1), {1: False}),
    "was seen to be there": (side(1), {1: True}),
}


def test_the_table_of_opposing_faults_has_these_rows() -> None:
    assert table("the reading is normal, and B").keys() == OPPOSED.keys()


@pytest.mark.parametrize("row", OPPOSED)
def test_a_normal_reading_over_two_opposing_faults(row: str) -> None:
    low, seen = OPPOSED[row]
    network = opposed(low)
    (finding,) = network.findings
    normal = tuple(float(outcome == finding.low.top) for outcome in range(finding.outcomes))
    found = Reasoner(network, Evidence({0: normal}, seen)).beliefs.probability[0]
    assert table("the reading is normal, and B")[row] == pytest.approx(found, abs=5e-5)


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("A, not B", {0: True, 1: False}),
        ("A and B", {0: True, 1: True}),
        ("neither", {0: False, 1: False}),
    ],
)
def test_how_often_it_is_normal(line: str, seen: dict[int, bool]) -> None:
    (written,) = re.findall(rf"P\(normal \| {line}\) +=.*= ([\d.]+)", PAGE)
    (told,) = Reasoner(opposed(side(1)), Evidence({}, seen)).predict([0])
    assert float(written) == pytest.approx(told.chance[1], abs=5e-5)
