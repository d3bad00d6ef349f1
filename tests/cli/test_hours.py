"""`hours`: how many, how sure, and what would make it surer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import HOURS, fits

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Run

OPEN = ("record", "job.yaml", "bridge-feeler", "6 mm")


def test_hours_as_data(run: Run) -> None:
    run(*OPEN)
    data = run("hours", "job.yaml", "--json").data
    fits(data, HOURS)
    found = data["hours"]
    (line,) = found["lines"]
    chance = run("causes", "job.yaml", "--json").data["faults"][0]["probability"]
    assert line["chance"] == pytest.approx(chance)
    three = line["hours"]
    mean = (three["low"] + 4 * three["likely"] + three["high"]) / 6
    assert found["mean"] == pytest.approx(chance * mean)
    assert [entry["share"] for entry in found["enough"]] == [0.5, 0.8, 0.95]


def test_hours_in_words(run: Run) -> None:
    run(*OPEN)
    shown = run("hours", "job.yaml").out
    assert "On average such a job takes " in shown
    assert "Of 100 such jobs, about 20 take more than " in shown
    assert "What would narrow it before a price is promised:" in shown
    assert "This check first: Shine along the bridge edge, 1 min (the spread falls from " in shown


def test_no_work_no_hours(run: Run) -> None:
    run("record", "job.yaml", "bridge-feeler", "0 mm")
    assert run("hours", "job.yaml", "--json").data == {"tailblock": 1, "hours": None}
    assert run("hours", "job.yaml").out == "There are no hours to say: no work is offered.\n"


def test_an_option_that_is_not_there(run: Run) -> None:
    run(*OPEN)
    ran = run("hours", "job.yaml", "--option", "everything")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "--option: there is no 'everything' for this instrument (there is to-string)\n"
    )


def test_a_shop_beside_the_file_turns_hours_into_money(run: Run, shop: Path) -> None:
    run(*OPEN)
    assert run("hours", "job.yaml", "--json").data["hours"]["money"] is None
    text = "tailblock: 1\ncurrency: EUR\nrate: 60\nmaterials: {no-such-work: 2}\n"
    (shop / "shop.yaml").write_text(text, encoding="utf-8")
    data = run("hours", "job.yaml", "--json").data
    fits(data, HOURS)
    money, mean = data["hours"]["money"], round(data["hours"]["mean"], 2)
    assert money["lines"][0]["labour"].replace("\N{NO-BREAK SPACE}", " ") == f"{60 * mean:.2f} EUR"
    shown = run("hours", "job.yaml").out
    assert "The average job: " in shown
    assert "shop.yaml:4:13: `no-such-work` is no remedy of small" in shown
    assert run("report", "job.yaml", "--format", "markdown", "-o", "r.md").code == 0
    assert "| The average job |" in (shop / "r.md").read_text(encoding="utf-8")


def test_a_shop_can_be_named_and_its_slips_are_told(run: Run, shop: Path) -> None:
    run(*OPEN)
    (shop / "prices.yaml").write_text(
        "tailblock: 1\ncurrency: EUR\nrate: 62,50\n", encoding="utf-8"
    )
    ran = run("hours", "job.yaml", "--shop", "prices.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("prices.yaml:3:7: error [bad-value] `62,50` is no amount (write it")
    ran = run("report", "job.yaml", "--shop", "nowhere.yaml")
    assert ran.code == 2
    assert ran.err.startswith("nowhere.yaml: there is no such file")
