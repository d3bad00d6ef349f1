"""Jittered chances stay within their words, in order, and where nothing is open, in place."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from strategies import networks
from tailblock.knowledge.words import LADDER, WORDS, margins, word_for
from tailblock.network.arrays import Network
from tailblock.network.jitter import jittered

ENOUGH = 400


def log_odds(chance: float) -> float:
    return float(np.log(chance / (1.0 - chance)))


@pytest.mark.parametrize("word", LADDER)
def test_a_word_reaches_half_way_to_its_neighbours(word: str) -> None:
    at = LADDER.index(word)
    own = log_odds(WORDS[word])
    down, up = (float(side[0]) for side in margins(np.array([WORDS[word]])))
    if at > 0:
        assert own + down == pytest.approx((own + log_odds(WORDS[LADDER[at - 1]])) / 2)
    else:
        assert -down == pytest.approx(up)
    if at < len(LADDER) - 1:
        assert own + up == pytest.approx((own + log_odds(WORDS[LADDER[at + 1]])) / 2)
    else:
        assert up == pytest.approx(-down)


@pytest.mark.parametrize("word", LADDER)
def test_a_jittered_word_is_still_that_word(word: str) -> None:
    network = Network(np.array([WORDS[word]]), ((),), ((),), ())
    drawn = jittered(network, [], np.random.default_rng(1), ENOUGH).alone[0]
    assert {word_for(chance) for chance in drawn.tolist()} == {word}
    odds = np.log(drawn / (1.0 - drawn)) - log_odds(WORDS[word])
    down, up = margins(np.array([WORDS[word]]))
    # uniform on either side: half of the draws, and half way out in the mean
    assert (odds < 0).mean() == pytest.approx(0.5, abs=0.1)
    assert odds[odds < 0].mean() == pytest.approx(float(down[0]) / 2, abs=0.08)
    assert odds[odds > 0].mean() == pytest.approx(float(up[0]) / 2, abs=0.08)


@given(networks(), st.integers(0, 2**32 - 1))
def test_levels_stay_in_order_and_certainties_stay(network: Network, seed: int) -> None:
    findings = list(range(len(network.findings)))[::-1]
    drawn = jittered(network, findings, np.random.default_rng(seed), 7)
    assert drawn.batch == (7,)
    assert len(drawn.findings) == len(findings)
    for many, k in zip(drawn.findings, findings, strict=True):
        one = network.findings[k]
        for side, own in ((many.low, one.low), (many.high, one.high)):
            assert side.parents == own.parents
            assert (np.diff(side.cumulative, axis=1) >= -1e-15).all()
            assert (np.diff(side.leak, axis=0) >= -1e-15).all()
            assert (side.cumulative[:, -1] == 1.0).all()
            assert (side.cumulative[own.cumulative == 1.0] == 1.0).all()
            assert (side.leak[own.leak == 1.0] == 1.0).all()


def test_the_same_seed_gives_the_same_networks() -> None:
    network = Network(np.array([0.1, 0.3]), ((), (0,)), ((), (0.6,)), ())
    first, again = (jittered(network, [], np.random.default_rng(5), 9) for _ in range(2))
    np.testing.assert_array_equal(first.alone, again.alone)
    np.testing.assert_array_equal(first.strengths[1][0], again.strengths[1][0])
