"""`hours`: how many, how sure, and what would make it surer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from cli.shapes import HOURS, fits

if TYPE_CHECKING:
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
    assert run("hours", "job.yaml").out == "No work is offered, so there are no hours to say.\n"


def test_an_option_that_is_not_there(run: Run) -> None:
    run(*OPEN)
    ran = run("hours", "job.yaml", "--option", "everything")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "--option: there is no 'everything' for this instrument (there is lasting)\n"
    )
