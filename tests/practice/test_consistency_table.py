"""The page of the self-consistency run: what is counted, and what it says of it."""

from __future__ import annotations

import json
from math import inf, sqrt
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from scipy import stats

from advice.shop import SHOP
from benchmarks.self_consistency import FIXED, chosen, end_torn_line, kept
from demos import shipped
from tailblock.practice.consistency_table import median_checks, median_minutes, page
from tailblock.practice.consistency_worst import by_hand
from tailblock.practice.paired import difference, sooner
from tailblock.practice.self_consistency import ORDERS, Order, Point, Run

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist

UNSEEN = """
  - {id: secret, part: top, name: Secret, plain: P, alone: 0.1, harm: serious, pace: years,
     under_tension: fine}
  - {id: rumour, part: top, name: Rumour, plain: P, alone: 0.1, harm: serious, pace: years,
     under_tension: fine}
symptoms:"""
RUMOUR = """
  - {id: c-said, part: top, title: Said, ask: A?, how: Ask., minutes: 0.5, asked: player,
     choices: [{level: "no", text: N}, {level: "yes", text: Y}],
     shows: [{fault: rumour, at_least: {"yes": 0.5}}]}
remedies:"""


@pytest.fixture
def shop(checklist: Callable[..., Checklist]) -> Checklist:
    text = SHOP.replace("\nsymptoms:", UNSEEN).replace("\nremedies:", RUMOUR)
    return checklist(f"tailblock: 1\nid: shop\ntitle: Shop\nversion: 1.0.0\n{text}", "shop")


def run(
    fault: str, draw: int, order: Order, found: float | None, bits: float, *, before: str = ""
) -> Run:
    """Return a run of one lamp at minute 2, another look when it is found, and one at the end."""
    middle = 10.0 if found is None else found
    points = (
        Point("", 0.0, 9.0, 0.1, leads=False),
        Point("lamp", 2.0, 8.0, 0.2, leads=False, step="opening"),
        Point(
            "belly",
            middle,
            bits,
            0.4 if found is None else 0.7,
            leads=found is not None,
            step="gain",
        ),
    )
    return Run(fault, draw, order, points, before)


def test_a_median_of_runs_in_which_most_find_nothing_is_beyond_the_limit() -> None:
    found = [run("hump", 0, "advice", 5, 1), run("hump", 1, "advice", 7, 1)]
    missed = [run("hump", draw, "advice", None, 1) for draw in (2, 3, 4)]
    assert (median_minutes(found), median_checks(found)) == (6, 2)
    assert median_minutes([*found, missed[0]]) == 7
    assert (median_minutes(found + missed), median_checks(found + missed)) == (inf, inf)


@pytest.mark.parametrize(
    ("ours", "theirs", "expected"),
    [
        ([1, 2, 3], [2, 4, 6], (2, 2, 4, 0.5)),  # half of three: the ratio of the medians
        ([1, 2, 3, 9], [4, inf, inf, inf], (1, 1, 4, 0.25)),  # only one can be compared
        ([inf, inf], [3, inf], (1, inf, 3, inf)),
        ([0, 1], [0, 1], (1, 0, 0, 1)),
    ],
)
def test_how_soon_as_many_are_done(
    ours: list[float], theirs: list[float], expected: tuple[float, ...]
) -> None:
    ahead = sooner(ours, theirs)
    assert ahead
    assert [ahead.many, ahead.ours, ahead.theirs, ahead.ratio] == list(expected)
    assert ahead.low <= ahead.ratio <= ahead.high


def test_nothing_is_compared_with_what_is_never_done() -> None:
    assert sooner([1.0, 2.0], [inf, inf]) is None


def test_the_interval_of_how_soon_agrees_with_a_general_bootstrap() -> None:
    dice = np.random.default_rng(5)
    theirs = dice.gamma(4.0, 5.0, size=81)
    ours = theirs * dice.uniform(0.3, 0.9, size=81)

    def ratio(one: Any, other: Any, axis: int) -> Any:
        return np.median(one, axis=axis) / np.median(other, axis=axis)

    oracle = stats.bootstrap(
        (ours, theirs), ratio, paired=True, method="percentile", n_resamples=4000, rng=dice
    ).confidence_interval
    ahead = sooner(ours.tolist(), theirs.tolist())
    assert ahead
    assert (ahead.low, ahead.high) == pytest.approx((oracle.low, oracle.high), abs=0.03)


def test_a_difference_is_over_pairs_with_its_standard_error() -> None:
    ours, theirs = [1.0, 4.0, 2.0, 5.0], [3.0, 4.0, 5.0, 6.0]
    found = difference(ours, theirs)
    error = np.std([-2, 0, -3, -1], ddof=1) / sqrt(4)
    assert found.mean == pytest.approx(-1.5)
    assert (found.low, found.high) == pytest.approx((-1.5 - 1.96 * error, -1.5 + 1.96 * error))


@pytest.fixture
def text(shop: Checklist) -> str:
    runs = []
    for draw in range(4):
        for order, found, bits in zip(ORDERS, (6.0, 14.0, 9.0), (4.0, 7.0, 5.0), strict=True):
            runs.append(run("hump", draw, order, found, bits + 0.1 * draw))
            runs.append(run("lifting", draw, order, None, bits, before="hump"))
            runs.append(run("secret", draw, order, None, bits))
            runs.append(run("rumour", draw, order, found, bits))
    runs.append(run("heat", 0, "advice", 3.0, 1.0))  # no other order has inspected it: out
    return page(shop, runs, "arrival")


def test_the_orders_are_compared_over_the_instruments_that_all_have_inspected(text: str) -> None:
    assert "16 instruments" in text
    rows = [line for line in text.splitlines() if line.startswith("| the advice")]
    assert rows[:1] == ["| the advice | 8 of 16 | > 60 | > 30 | 9.0 | 4.0 | 4.0 |"]
    assert "| heat |" not in text


def test_milder_readings_of_found_stand_beside_the_strict_one(shop: Checklist) -> None:
    points = (
        Point("", 0.0, 9.0, 0.1, leads=False, place=0),
        Point("lamp", 2.0, 8.0, 0.3, leads=False, place=3),
        Point("belly", 5.0, 7.0, 0.6, leads=False, place=2),
    )
    runs = [Run("hump", 0, order, points, "heat") for order in ORDERS]
    rows = page(shop, runs, "arrival").splitlines()
    assert "| the advice | 0 of 1, > 30 min | 1 of 1, 5 min | 1 of 1, 2 min |" in rows


@pytest.fixture
def page_of_few(shop: Checklist) -> str:
    """Return the page of five instruments: the advice finds three, random order two."""
    found: dict[Order, tuple[float | None, ...]] = {
        "advice": (2.0, 3.0, 5.0, None, None),
        "random": (10.0, 14.0, None, None, None),
        "fixed": (None,) * 5,
    }
    runs = [
        run("lifting", draw, order, minutes, 4.0)
        for order, times in found.items()
        for draw, minutes in enumerate(times)
    ]
    return page(shop, runs, "arrival")


def test_it_says_whether_what_was_wanted_is_so(text: str, page_of_few: str) -> None:
    assert "Less uncertainty than random order after 12 minutes" in text
    assert (
        "Less uncertainty than random order after 30 minutes: -3.00 bits (-3.00 to -3.00): yes"
        in text
    )
    assert "neither has one, in most runs the fault does not lead in time" in text
    assert "half of those of random order: 5 against > 30: yes." in page_of_few
    assert "random order finds in 30 minutes (2 of 5): 3 against 14: yes." in page_of_few


def test_random_order_is_compared_at_as_many_as_it_finds(page_of_few: str) -> None:
    rows = page_of_few.splitlines()
    # the second of five at 3 minutes against 14; each instrument alone is 0.2 to 0.25 or never
    (row,) = [row for row in rows if row.startswith("| leads | all")]
    assert row.startswith("| leads | all | 2 of 5 | 14 | 3 | 0.21 (0.2")
    assert "| leads | weight 1 and more | 2 of 5 | 14 | 3 |" in page_of_few


def test_it_says_what_the_minutes_of_the_advice_went_to(shop: Checklist) -> None:
    runs = [run("hump", 0, order, 6.0, 4.0) for order in ORDERS]
    rows = page(shop, runs, "arrival").splitlines()
    assert "| opening | 1 | 33% | +0.500 |" in rows  # 2 of 6 minutes, from 9 bits to 8
    assert "| gain | 1 | 67% | +1.000 |" in rows  # 4 minutes, from 8 bits to 4


def test_every_fault_has_its_row(text: str) -> None:
    assert "| hump | top | 4 | 100% | 2 | 6 | 100% | 100% | 70% |" in text
    assert "| lifting | bridge | 4 | 0% | > 60 | > 30 | 0% | 0% | 40% |" in text


def test_the_worst_ones_are_explained(text: str) -> None:
    worst = text.partition("## The worst ones")[2]
    assert (
        "- lifting: 1.0 of the 1 checks that show it were read, and raised it to 40%; "
        "before it led hump." in worst
    )
    assert "- secret: nothing that can be looked at on this visit shows it." in worst
    assert "- rumour" not in worst


def test_the_ten_worst_are_those_that_a_check_could_have_shown(text: str) -> None:
    looked_into = text.partition("## The ten worst, looked into")[2]
    assert "stayed least probable: lifting." in looked_into


def test_what_was_written_by_hand_stays_when_the_page_is_made_again(shop: Checklist) -> None:
    runs = [run("hump", 0, order, 6.0, 4.0) for order in ORDERS]
    first = page(shop, runs, "arrival")
    assert by_hand(first) == ""
    assert by_hand("# A page without a place for it") == ""
    words = "**hump**: seen too late.\n\n### And more\n\nof it."
    again = page(shop, runs, "arrival", by_hand(f"{first}\n{words}\n"))
    assert by_hand(again) == words
    assert page(shop, runs, "arrival", by_hand(again)) == again


def test_a_run_that_goes_on_does_not_write_into_a_torn_line(tmp_path: Path) -> None:
    file = tmp_path / "runs.jsonl"
    one = run("hump", 0, "advice", 5, 1)
    line = json.dumps({"mark": "now", "run": one.as_data()})
    file.write_text(line[:40], encoding="utf-8")
    for _ in range(2):  # a whole line is left as it is
        end_torn_line(file)
    with file.open("a", encoding="utf-8") as more:
        more.write(f"{line}\n")
    assert list(kept(file, "now")) == [one]
    end_torn_line(tmp_path / "none.jsonl")
    assert not (tmp_path / "none.jsonl").exists()


def test_lines_of_another_checklist_and_a_torn_line_do_not_count(tmp_path: Path) -> None:
    file = tmp_path / "runs.jsonl"
    one, other = run("hump", 0, "advice", 5, 1), run("hump", 1, "advice", 5, 1)
    lines = [
        json.dumps({"mark": "now", "run": one.as_data()}),
        json.dumps({"mark": "then", "run": other.as_data()}),
        json.dumps({"mark": "now", "run": other.as_data()})[:40],
    ]
    file.write_text("\n".join(lines), encoding="utf-8")
    assert list(kept(file, "now")) == [one]
    assert list(kept(tmp_path / "none.jsonl", "now")) == []


def test_a_sample_is_spread_over_the_checklist(shop: Checklist) -> None:
    assert chosen(shop, [], 0) == list(shop.faults)
    assert chosen(shop, [], 2) == ["lifting", "dome"]
    assert chosen(shop, ["hump"], 2) == ["hump"]


def test_the_fixed_order_names_checks_of_the_shipped_checklist_each_once() -> None:
    flat_top = shipped("flat-top")
    assert set(FIXED) <= flat_top.checks.keys()
    assert len(FIXED) == len(set(FIXED))
