"""Hours and prices in both copies: what the bench reads of them, and what the player keeps."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from markdown_it import MarkdownIt
from pypdf import PdfReader

from report.pages import read
from report.visits import HEAD, HOT_CAR
from tailblock.inspection import store
from tailblock.inspection.shop import read_shop
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.players_copy import texts_of
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_pdf import to_pdf

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Copy, Report

PLAIN_SHOP = "tailblock: 1\ncurrency: EUR\nrate: 60\n"
WHOLE_SHOP = (
    "tailblock: 1\ncurrency: EUR\nrate: 1250.5\nminimum: 90000\nmaterials: {bridge-reglue: 12.1}\n"
    "tax: {name: VAT, percent: 19}\nrounding: 5\n"
)


def _html(report: Report, copy: Copy) -> str:
    return read(to_html(report, copy=copy)).text


def _markdown(report: Report, copy: Copy) -> str:
    reader = MarkdownIt("commonmark").enable("table")
    return read(reader.render(to_markdown(report, copy=copy)).replace("<br />", "<br>")).text


def _pdf(report: Report, copy: Copy) -> str:
    pages = PdfReader(io.BytesIO(to_pdf(report, copy=copy))).pages
    return "".join(page.extract_text() for page in pages)


FORMS = [_html, _markdown, _pdf]


@pytest.fixture(scope="module", params=[PLAIN_SHOP, WHOLE_SHOP], ids=["plain", "whole"])
def priced(
    request: pytest.FixtureRequest, bench: Checklist, tmp_path_factory: pytest.TempPathFactory
) -> Report:
    path = tmp_path_factory.mktemp("shop") / "shop.yaml"
    path.write_text(request.param, encoding="utf-8")
    inspection = store.from_bytes((HEAD + HOT_CAR).encode(), Path("job.yaml"), lambda _: bench)
    return build(examine(bench, inspection), shop=read_shop(path))


def _squeezed(text: str) -> str:
    """Leave out where lines and pages are broken, which differs between the forms."""
    return re.sub(r"[\s\u00ad\u200b]+", "", text)


@pytest.mark.parametrize("copy", ["player", "bench"])
@pytest.mark.parametrize("form", FORMS)
def test_both_copies_say_the_hours_and_every_amount(
    priced: Report, form: Callable[[Report, Copy], str], copy: Copy
) -> None:
    assert priced.hours is not None
    assert priced.hours.money is not None
    shown = _squeezed(form(priced, copy))
    told = (*priced.hours.said, *texts_of(priced.hours.money))
    assert [text for text in told if _squeezed(text) not in shown] == []
    least = any(line.minimum for line in priced.hours.money.lines)
    assert ("leastcharge" in shown.replace("Theleastcharge", "")) == least


@pytest.mark.parametrize("form", FORMS)
def test_without_a_shop_hours_are_all_that_is_said(
    hot_car: Report, form: Callable[[Report, Copy], str]
) -> None:
    shown = form(hot_car, "player")
    assert "How many hours is that?" in shown
    assert "What that comes to" not in shown
    assert "EUR" not in shown


@pytest.mark.parametrize("form", FORMS)
def test_no_work_no_hours(sound: Report, form: Callable[[Report, Copy], str]) -> None:
    assert "How many hours" not in form(sound, "player")
    assert "How many hours" not in form(sound, "bench")


def test_the_players_json_has_the_same_prices_as_the_whole_report(priced: Report) -> None:
    whole, part = json.loads(to_json(priced)), json.loads(to_json(priced, copy="player"))
    assert part["players_copy"]["money"] == whole["hours"]["money"]
    assert part["players_copy"]["hours"][1:] == whole["hours"]["said"]
