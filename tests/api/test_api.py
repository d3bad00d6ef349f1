"""The Python API: what it writes is what the command line writes, and what it refuses."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date, datetime
from io import BytesIO
from typing import TYPE_CHECKING

import pytest
import yaml
from pypdf import PdfReader

import tailblock
from tailblock.api import NothingToTakeBack
from tailblock.errors import TailblockError
from tailblock.report.options import NoSuchOption

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.api import Form, InspectionFile

SMALL = """\
tailblock: 1
id: small
title: One bridge
version: 1.0.0
parts: [{id: bridge, name: Bridge}]
traits:
  - {id: bridge, ask: Which bridge?, values: [pin, pinless, unknown],
     shares: {pin: 0.9, pinless: 0.1}}
setups: {states: {strings: ["off", slack, at-pitch]}}
stages: [{id: arrival, budget: 12 min}, {id: settled, budget: 12 min}]
faults:
  - {id: lifting, part: bridge, name: Bridge lifting, plain: It comes off., alone: 0.1,
     harm: serious, pace: months, under_tension: danger, sources: [memory]}
checks:
  - {id: look, part: bridge, title: Look, ask: Is there a line?, how: Look., minutes: 1,
     choices: [{level: none, text: No}, {level: line, text: Yes}], sources: [memory],
     shows: [{fault: lifting, at_least: {line: 0.8}}], otherwise: {line: 0.1}}
  - {id: feel, part: bridge, title: Feel, ask: Does paper go in?, how: Slide it., minutes: 1,
     setup: {strings: [slack, "off"]}, sources: [memory],
     choices: [{level: none, text: No}, {level: goes-in, text: Yes}],
     shows: [{fault: lifting, at_least: {goes-in: 0.8}}], otherwise: {goes-in: 0.1}}
remedies:
  - {id: reglue, part: bridge, name: Reglue, plain: Glue it., hours: {low: 1, likely: 2, high: 3},
     fixes: [{fault: lifting, how_well: 0.95}], stage: lasting, reversible: true, sources: [memory]}
sources: [{id: memory, kind: memory, citation: From memory, seen: not-applicable}]
"""
DAY = date(2031, 3, 2)
MORNING = datetime(2031, 3, 2, 10, 14)  # noqa: DTZ001  (the shop's clock)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return a folder with a checklist beside the inspections."""
    folder = tmp_path / "checklists" / "small"
    folder.mkdir(parents=True)
    (folder / "checklist.yaml").write_text(SMALL, encoding="utf-8")
    return tmp_path


@pytest.fixture
def guitar(shop: Path) -> InspectionFile:
    return tailblock.begin_inspection(
        shop / "job-7.yaml", checklist="small", description="A guitar", day=DAY
    )


def test_a_reading_moves_the_cause_as_worked_out_by_hand(guitar: InspectionFile) -> None:
    """Prior odds 1/9; yes has 1 - 0.9 x 0.2 = 0.82 with the fault and 0.1 without."""
    assert guitar.causes()[0].probability == pytest.approx(0.1)
    guitar.add_reading("look", "line")
    assert guitar.causes()[0].probability == pytest.approx(0.82 / (0.82 + 9 * 0.1))
    assert guitar.reasons("lifting").in_favour[0].decibans == pytest.approx(9.138, abs=1e-3)


def test_the_file_holds_what_was_added_and_opens_again(guitar: InspectionFile) -> None:
    guitar.add_reading("look", "line", note="back edge", at=MORNING)
    guitar.add_reading("feel", "goes-in", setup={"strings": "slack"}, at=MORNING)
    written = yaml.safe_load(guitar.path.read_text(encoding="utf-8"))["visits"][0]["readings"]
    assert written == [
        {"check": "look", "value": "line", "note": "back edge", "at": MORNING},
        {"check": "feel", "value": "goes-in", "setup": {"strings": "slack"}, "at": MORNING},
    ]
    again = tailblock.open_inspection(guitar.path)
    assert again.causes() == guitar.causes()
    assert again.visit.present_setup == {"strings": "slack"}


def test_advice_verdict_and_report_are_those_of_the_examination(guitar: InspectionFile) -> None:
    guitar.add_reading("look", "line")
    assert guitar.advice() == guitar.examined.advice
    assert guitar.advice().advice[0].check == "feel"
    assert guitar.verdict().kind == "open"
    assert guitar.report().heading.job == "job-7"


def test_the_plan_is_that_of_the_report_but_for_its_numbered_cautions(
    guitar: InspectionFile,
) -> None:
    guitar.add_reading("look", "line")
    guitar.add_reading("feel", "goes-in", setup={"strings": "slack"})
    offered = [[work.id for work in offer.works] for offer in guitar.plan().offers]
    assert offered == [["reglue"]]
    told = guitar.report().plan.offers
    assert offered == [[work.id for work in offer.works] for offer in told]


@pytest.mark.parametrize(
    ("form", "begins"), [("html", "<!doctype html>"), ("markdown", "# A guitar"), ("json", "{")]
)
def test_the_report_as_text(guitar: InspectionFile, form: Form, begins: str) -> None:
    assert guitar.report_text(form).lower().startswith(begins.lower())


def test_a_report_is_of_an_option_for_a_copy_and_a_shop(
    guitar: InspectionFile, tmp_path: Path
) -> None:
    guitar.add_reading("look", "line")
    guitar.add_reading("feel", "goes-in", setup={"strings": "slack"})
    kind = guitar.plan().offers[0].kind
    with pytest.raises(NoSuchOption):
        guitar.report(option="all-of-it")
    without = guitar.report(option=kind).hours
    assert without is not None
    assert (without.id, without.money) == (kind, None)
    given = tmp_path / "other.yaml"
    given.write_text("tailblock: 1\ncurrency: EUR\nrate: 60\n")
    guitar.path.with_name("shop.yaml").write_text("tailblock: 1\ncurrency: CHF\nrate: 90\n")
    for shop, currency in ((None, "CHF"), (given, "EUR")):
        hours = guitar.report(shop=shop).hours
        assert hours is not None
        assert hours.money is not None
        assert hours.money.currency == currency
        assert currency in guitar.report_text("markdown", copy="player", shop=shop)
    player, bench = (guitar.report_text("json", copy=copy) for copy in ("player", "bench"))
    assert len(player) < len(bench)
    sheets = PdfReader(BytesIO(guitar.report_pdf(copy="player", shop=given))).pages
    assert "EUR" in "".join(sheet.extract_text() for sheet in sheets)


def test_what_is_taken_back_says_nothing_and_stays_on_file(guitar: InspectionFile) -> None:
    guitar.add_reading("look", "line")
    guitar.take_back("look")
    assert guitar.causes()[0].probability == pytest.approx(0.1)
    assert [reading.retracted for reading in guitar.visit.readings] == [True]
    with pytest.raises(NothingToTakeBack, match="look has no reading on the last visit"):
        guitar.take_back("look")


def test_a_new_visit_and_an_accepted_risk(guitar: InspectionFile) -> None:
    guitar.add_reading("look", "line")
    guitar.accept("lifting", by="J. Aldous", why="The player waits for it")
    guitar.new_visit("settled", day=date(2031, 3, 9))
    assert [visit.stage for visit in guitar.inspection.visits] == ["arrival", "settled"]
    assert guitar.inspection.visits[0].accepted[0].why == "The player waits for it"


@pytest.mark.parametrize(
    ("check", "value", "says"),
    [
        ("lok", "line", "look"),
        ("look", "lines", "line"),
        ("feel", "goes-in", "slack"),
    ],
)
def test_an_answer_that_cannot_stand_is_refused_and_nothing_written(
    guitar: InspectionFile, check: str, value: str, says: str
) -> None:
    before = guitar.path.read_bytes()
    with pytest.raises(TailblockError, match=says):
        guitar.add_reading(check, value)
    assert guitar.path.read_bytes() == before


def test_a_stage_that_is_not_there_is_refused_with_its_place(guitar: InspectionFile) -> None:
    with pytest.raises(tailblock.ProblemsFound, match=r"job-7\.yaml:\d+:\d+: .*settld"):
        guitar.new_visit("settld")


def test_a_file_that_is_there_is_not_written_over(guitar: InspectionFile) -> None:
    with pytest.raises(TailblockError, match="there is a file of that name already"):
        tailblock.begin_inspection(guitar.path, checklist="small", description="Another")


def test_a_checklist_opens_by_its_folder_by_its_id_and_on_a_shelf(shop: Path) -> None:
    by_folder = tailblock.open_checklist(shop / "checklists" / "small")
    assert by_folder.digest == tailblock.open_checklist("small", shop / "checklists").digest
    with pytest.raises(TailblockError, match="there is no checklist 'small'"):
        tailblock.open_checklist("small")


def test_importing_tailblock_and_looking_at_its_names_loads_nothing_heavy() -> None:
    """The command line imports the package first: each of these would delay every command."""
    heavy = ("numpy", "pydantic", "yaml", "networkx", "jinja2", "typer", "tailblock.api")
    program = (
        f"import sys, tailblock; dir(tailblock); print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env=os.environ
    )
    assert done.stdout == "[]\n"


def test_the_api_loads_its_renderers_only_for_a_report() -> None:
    heavy = ("jinja2", "networkx", "typer", "rich", "tailblock.report.build")
    program = (
        "import sys, tailblock; tailblock.InspectionFile;"
        f"print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env=os.environ
    )
    assert done.stdout == "[]\n"
