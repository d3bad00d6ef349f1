"""The hours of an option: what is said of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tailblock.report.model import HoursOfWork, Report


@pytest.fixture
def found(hot_car: Report) -> HoursOfWork:
    assert hot_car.hours is not None
    return hot_car.hours


def test_no_hours_without_work(sound: Report) -> None:
    assert sound.hours is None


def test_the_widest_option_of_what_is_needed_is_said(found: HoursOfWork) -> None:
    assert (found.id, found.title) == ("to-play", "Needed for it to play well")


def test_the_player_hears_a_share_of_such_jobs_and_why(found: HoursOfWork) -> None:
    average, half, most = (text.replace("\N{NO-BREAK SPACE}", " ") for text in found.said)
    assert average.startswith("On average such a job takes ")
    assert half.startswith("Of 100 such jobs, about 50 take more than ")
    assert most.startswith("Of 100 such jobs, about 20 take more than ")
    assert " because of: " in most


def test_each_fault_is_put_down_to_one_piece_of_work(found: HoursOfWork) -> None:
    """Lighter strings and a neck reset deal with the same fault: the hours count one of them."""
    names = [line.name for line in found.lines]
    assert "Reset the neck" in names
    assert "Fit lighter strings" not in names


def test_the_mean_is_the_sum_of_what_each_line_adds(found: HoursOfWork) -> None:
    assert sum(line.adds for line in found.lines) == pytest.approx(found.mean, rel=0.02)
