"""What the player can choose, on the first page: doing nothing and each offer, in a line each."""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from report.pages import read, words
from report.visits import HEAD, HOT_CAR
from tailblock.inspection import store
from tailblock.inspection.shop import read_shop
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Report


def _first_pages(report: Report) -> list[str]:
    html = read(to_html(report, copy="player")).text
    markdown = to_markdown(report, copy="player")
    pdf = PdfReader(io.BytesIO(to_pdf(report, copy="player"))).pages[0].extract_text()
    cut = [text.replace("**", "").split("What is wrong, or may be")[0] for text in (html, markdown)]
    return [words(text) for text in (*cut, pdf)]


def test_they_go_from_doing_nothing_to_the_most_work(hot_car: Report) -> None:
    choices = hot_car.first_page.choices
    assert [one.id for one in choices] == ["", *(offer.kind for offer in hot_car.plan.offers)]
    assert choices[0].takes == "it can wait if it stays slack"
    lows = [one.low for one in choices if one.low is not None]
    assert lows == sorted(lows)


def test_the_hours_are_those_that_the_bench_copy_argues(hot_car: Report) -> None:
    """Enough for half of such jobs, and for 8 of 10."""
    assert hot_car.hours is not None
    (told,) = (one for one in hot_car.first_page.choices if one.id == hot_car.hours.id)
    half, most, _ = hot_car.hours.enough
    assert (half.share, most.share) == (0.5, 0.8)
    assert (told.low, told.high) == (half.hours, most.hours)


def test_each_stands_in_a_line_on_the_first_page_of_every_form(hot_car: Report) -> None:
    for page in _first_pages(hot_car):
        for choice in hot_car.first_page.choices:
            assert words(f"{choice.title}:") in page
            assert words(choice.takes) in page
        assert words(hot_car.first_page.choices_note) in page


def test_where_nothing_is_offered_doing_nothing_is_the_only_choice(sound: Report) -> None:
    (only,) = sound.first_page.choices
    assert only.low is None
    assert sound.first_page.choices_note == ""


@pytest.fixture(scope="module")
def priced(bench: Checklist, tmp_path_factory: pytest.TempPathFactory) -> Report:
    path = tmp_path_factory.mktemp("shop") / "shop.yaml"
    path.write_text("tailblock: 1\ncurrency: EUR\nrate: 60\nrounding: 10\n", encoding="utf-8")
    inspection = store.from_bytes((HEAD + HOT_CAR).encode(), Path("job.yaml"), lambda _: bench)
    return build(examine(bench, inspection), shop=read_shop(path))


def test_a_shops_money_stands_beside_the_hours(priced: Report) -> None:
    """Each total is the one of the price list further back, or made in the same way."""
    assert priced.hours is not None
    assert priced.hours.money is not None
    (told,) = (one for one in priced.first_page.choices if one.id == priced.hours.id)
    _, half, most, *_ = priced.hours.money.lines
    low, high = (one.total.replace(".00", "") for one in (half, most))
    low = low.removesuffix("\N{NO-BREAK SPACE}EUR")
    assert told.takes.endswith(f", {low} to {high}")
    assert all("EUR" in one.takes for one in priced.first_page.choices[1:])
