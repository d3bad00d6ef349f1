"""What moving a number by a word does to vignettes, against examining each variant by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.numbers import numbers_of
from tailblock.pipeline import examine
from tailblock.practice.format import read_vignette
from tailblock.practice.sensitivity import sensitivity
from tailblock.practice.vignettes import leader, without_opening

if TYPE_CHECKING:
    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist


def test_every_change_is_that_of_the_variant_examined_by_itself(
    bench: Checklist, write: Write
) -> None:
    vignette = read_vignette(write(), bench)
    numbers = numbers_of(bench, "fault", "bridge-lifting")
    base = examine(without_opening(bench), vignette.inspection)
    was = {cause.id: cause.probability for cause in base.causes}
    found = sensitivity(bench, [vignette], numbers, with_advice=True)
    assert len(found) > len(numbers)
    for moved in found:
        other, words = moved.number.moved(bench, moved.way) or (bench, "")
        alone = examine(without_opening(other), vignette.inspection)
        changes = {cause.id: cause.probability - was[cause.id] for cause in alone.causes}
        most = max(changes.values(), key=abs)
        assert moved.most == pytest.approx(most, abs=1e-12)
        assert moved.words == words
        assert bool(moved.leads) == (leader(alone.causes) != leader(base.causes))
        nexts = [each.advice.advice[0].check for each in (base, alone)]
        assert bool(moved.next_checks) == (nexts[0] != nexts[1])


def test_a_starting_chance_moves_the_belief_as_worked_out_by_hand(
    bench: Checklist, write: Write
) -> None:
    """Light shows lifting at 0.95 and otherwise at 0.10: yes has 0.955 against 0.10.

    From 0.30 down to 0.10 the posterior goes from 0.30 x 0.955 / (0.2865 + 0.07) to
    0.10 x 0.955 / (0.0955 + 0.09).
    """
    vignette = read_vignette(write(), bench)
    readings = [reading.check for reading in vignette.inspection.visits[0].readings]
    assert readings == ["edge-look"]
    alone, *_ = numbers_of(bench, "fault", "bridge-lifting")
    down, _ = sensitivity(bench, [vignette], [alone])
    expected = 0.0955 / 0.1855 - 0.2865 / 0.3565
    assert (down.way, down.words, down.fault) == (-1, "seldom", "bridge-lifting")
    assert down.most == pytest.approx(expected, abs=1e-12)
    assert down.next_checks is None
