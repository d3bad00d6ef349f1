"""How a check's gauge mixes its levels up, against drawn values."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
import pytest

from tailblock.advice.gauge import reported, reported_by_check
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]

SHOP = """
parts: [{id: bridge, name: Bridge}]
traits:
  - {id: strings, ask: Which?, values: [steel, nylon, unknown], shares: {steel: 0.75, nylon: 0.25}}
faults:
  - {id: lifting, part: bridge, name: L, plain: L, alone: seldom, harm: serious, pace: months,
     under_tension: danger}
checks:
  - {id: look, part: bridge, title: L, ask: A?, how: Look., minutes: 1,
     choices: [{level: shut, text: N}, {level: open, text: Y}],
     shows: [{fault: lifting, at_least: {open: often}}]}
  - id: action
    part: bridge
    title: Action
    ask: How high?
    how: Measure.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 12 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.4 mm}
      normal: {from: 2.0 mm, to: 2.8 mm}
      levels_low: [{level: low, down_to: 1.5 mm}, {level: very-low}]
      levels_high: [{level: high}]
      limits_when:
        - when: {strings: nylon}
          normal: {from: 2.8 mm, to: 4.0 mm}
          levels_low: [{level: low, down_to: 2.2 mm}, {level: very-low}]
          levels_high: [{level: high}]
    shows: [{fault: lifting, at_least_high: {high: often}}]
"""


def drawn(edges: list[float], seed: int) -> np.ndarray:
    """K by drawing: a true value uniform in its level, a reading with the gauge's spread."""
    dice = np.random.default_rng(seed)
    u = np.hypot(0.5 / np.sqrt(12), 0.4)
    bounds = [2 * edges[0] - edges[1], *edges, 2 * edges[-1] - edges[-2]]
    rows = []
    for low, high in itertools.pairwise(bounds):
        read = dice.uniform(low, high, 200_000) + dice.normal(0, u, 200_000)
        rows.append(np.bincount(np.searchsorted(edges, read), minlength=len(edges) + 1) / 200_000)
    return np.array(rows)


STEEL, NYLON = [1.5, 2.0, 2.8], [2.2, 2.8, 4.0]


@pytest.mark.parametrize(("strings", "edges"), [("steel", STEEL), ("nylon", NYLON)])
def test_levels_are_mixed_up_as_the_gauge_does(
    read_checklist: Read, strings: str, edges: list[float]
) -> None:
    shop = read_checklist(SHOP)
    table = reported(shop.checks["action"], {"strings": strings}, shop)
    assert table is not None
    assert table == pytest.approx(drawn(edges, 1), abs=0.005)


def test_limits_that_hang_on_an_unknown_trait_are_averaged(read_checklist: Read) -> None:
    shop = read_checklist(SHOP)
    check = shop.checks["action"]
    steel, nylon, either = (
        reported(check, {"strings": value}, shop) for value in ("steel", "nylon", "unknown")
    )
    assert steel is not None
    assert nylon is not None
    assert either == pytest.approx(0.75 * steel + 0.25 * nylon)
    assert either.sum(axis=1) == pytest.approx(np.ones(4))


def test_what_is_looked_at_is_reported_as_it_is(read_checklist: Read) -> None:
    shop = read_checklist(SHOP)
    assert reported(shop.checks["look"], {}, shop) is None
    assert reported_by_check(shop, {"strings": "steel"}, shop.checks).keys() == {"action"}
