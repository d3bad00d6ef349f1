"""Whether a ranking is steady, on numbers small enough to count by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

from demos import shipped
from tailblock.advice.ranking import rank
from tailblock.advice.steadiness import steadiness
from tailblock.inference.batch import ManyBeliefs
from tailblock.inference.beliefs import Beliefs
from tailblock.network import compile_network
from tailblock.pipeline import examine, open_inspection

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.advice.results import Steadiness
    from tailblock.knowledge.checklist import Checklist

TWO = """\
tailblock: 1
id: small
title: Two faults
version: "1"
parts: [{id: top, name: Top}]
faults:
  - {id: crack, part: top, name: Crack, plain: Cracked., alone: seldom, harm: serious,
     pace: months, under_tension: fine}
  - {id: hump, part: top, name: Hump, plain: Humped., alone: seldom, harm: serious,
     pace: months, under_tension: fine}
checks: []
"""


def judged(
    checklist: Checklist, own: tuple[float, float], crack: list[float], hump: list[float]
) -> Steadiness:
    """Return the steadiness of two faults that start at 0.1 in every network."""
    compiled = compile_network(checklist, {}, [])
    at = {fault: compiled.node_of(fault) for fault in ("crack", "hump")}
    now = np.empty(2)
    many = np.empty((2, len(crack)))
    now[at["crack"]], now[at["hump"]] = own
    many[at["crack"]], many[at["hump"]] = crack, hump
    causes = rank(checklist, compiled, Beliefs(now, 0.0), Beliefs(np.full(2, 0.1), 0.0))
    return steadiness(checklist, compiled, causes, ManyBeliefs(many, np.full_like(many, 0.1)))


@pytest.mark.parametrize(
    ("beliefs", "said"),
    [
        (((0.9, 0.5), [0.9, 0.8, 0.9, 0.7, 0.9], [0.5, 0.5, 0.4, 0.3, 0.6]), ("crack", 1.0, True)),
        (((0.9, 0.5), [0.9, 0.8, 0.9, 0.7, 0.5], [0.5, 0.5, 0.4, 0.3, 0.6]), ("crack", 0.8, True)),
        (((0.6, 0.5), [0.6, 0.4, 0.5, 0.7, 0.5], [0.5, 0.5, 0.6, 0.3, 0.6]), ("crack", 0.4, False)),
        # nothing leads: a lead below 0.05 is none, and one of five networks says otherwise
        (((0.1, 0.1), [0.1, 0.1, 0.1, 0.1, 0.9], [0.1, 0.0, 0.1, 0.1, 0.1]), (None, 0.8, True)),
    ],
)
def test_the_leader_must_lead_in_four_of_five(
    checklist: Callable[..., Checklist],
    beliefs: tuple[tuple[float, float], list[float], list[float]],
    said: tuple[str | None, float, bool],
) -> None:
    got = judged(checklist(TWO), *beliefs)
    assert (got.first, round(got.agreed, 9), got.steady) == said


def test_intervals_are_the_middle_nine_tenths(checklist: Callable[..., Checklist]) -> None:
    crack = np.linspace(0.0, 1.0, 101).tolist()
    said = judged(checklist(TWO), (0.5, 0.2), crack, [0.2] * 101)
    swing = said.swings["crack"]
    assert [swing.low, swing.high] == pytest.approx([0.05, 0.95])
    assert said.swings["hump"].low == said.swings["hump"].high == pytest.approx(0.2)


def test_the_demo_is_steady_and_says_the_same_twice() -> None:
    flat_top = shipped("flat-top")
    demo = Path(__file__).parents[2] / "demo_inspections" / "hot-car.yaml"
    _, inspection = open_inspection(demo, lambda _: flat_top)
    examined = examine(flat_top, inspection)
    said = examined.steadiness
    assert said is not None
    assert said.swings.keys() == {cause.id for cause in examined.causes}
    for cause in examined.causes:
        swing = said.swings[cause.id]
        assert 0.0 <= swing.low <= swing.high <= 1.0
    assert replace(examined).steadiness == said
