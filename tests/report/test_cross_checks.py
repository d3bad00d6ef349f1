"""Whether the readings agree with one another, as the bench reads it."""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from markdown_it import MarkdownIt

from demos import shipped
from report.pages import read, words
from tailblock.inspection import store
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_html import to_html
from tailblock.report.to_json import to_json
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from tailblock.report.model import Report

HEAD = """
tailblock: 1
job: "2031-014"
checklist: flat-top
instrument:
  description: An invented guitar
  traits: {strings: steel, bridge: pin}
  scale_length: 648 mm
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: at-pitch}
    readings:
      - {check: action-12-bass, value: 2.3 mm}
      - {check: action-12-treble, value: 1.7 mm}
      - {check: relief-bass, value: 0.15 mm}
      - {check: relief-treble, value: 0.15 mm}
      - {check: nut-open-first, value: 0.39 mm}
"""
SADDLE = "      - {check: saddle-exposure, value: 3.4 mm}\n"
LIES = SADDLE + "      - {check: projection, value: 0.8 mm}\n"  # -0.24 by the others
AGREES = SADDLE + "      - {check: projection, value: -0.25 mm}\n"
TELLS = """\
      - {check: projection-top, value: 9.0 mm}
      - {check: bridge-thick, value: 9.0 mm, setup: {strings: slack}}
"""
AIM, SADDLE_OUT = "Aim of the neck at the bridge", "Saddle standing out of the bridge"


@cache
def reported(readings: str) -> Report:
    checklist = shipped("flat-top")
    inspection = store.from_bytes((HEAD + readings).encode(), Path("job.yaml"), lambda _: checklist)
    return build(examine(checklist, inspection))


def said(readings: str) -> list[str]:
    crossed = reported(readings).cross_checks
    assert crossed is not None
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in crossed.said]


def test_a_reading_that_is_off_is_named_with_the_value_that_the_others_imply() -> None:
    # -0.24 mm by hand: E - (a - 0.531 g - 0.35 r)/0.469; its u from the gauges of the others
    first, *others = said(LIES + TELLS)
    assert first == (
        f"Take again: {AIM}, read as 0.80 mm (.031 in) ± 0.26 mm (.010 in); "
        "by the other readings it would be -0.26 mm (-.010 in) ± 0.25 mm (.010 in)."
    )
    assert others[0].startswith("Without it the other readings agree")
    assert others[1] == "Sound readings differ as much as these on 1 % of visits."
    assert "ride on a hump" in others[2]


def test_without_a_second_relation_both_suspects_are_named() -> None:
    first, second, why, *_ = said(LIES)
    assert first.startswith(f"Take again: {AIM}, read as 0.80 mm")
    assert "it would be -0.24 mm (-.010 in) ± 0.32 mm (.012 in)" in first
    assert second.startswith(f"Or else: {SADDLE_OUT}, read as 3.40 mm")
    assert "it would be 4.44 mm" in second
    assert "cannot tell which of them is wrong" in why


def test_two_wrong_readings_are_said_to_be_more_than_one() -> None:
    first, why, *_ = said(LIES + TELLS + "      - {check: string-top, value: 14.4 mm, "
                          "setup: {strings: at-pitch}}\n")  # fmt: skip
    assert first.startswith("Take again: Strings over the top at the bridge")
    assert "more than one reading is wrong" in why


def test_readings_that_agree_are_said_to() -> None:
    (line,) = said(AGREES)
    assert line.startswith("The readings agree: none differs from what the others imply")
    crossed = reported(AGREES).cross_checks
    assert crossed is not None
    assert not any("times" in row.difference for row in crossed.rows)


def test_the_table_marks_only_what_is_to_be_taken_again() -> None:
    crossed = reported(LIES).cross_checks
    assert crossed is not None
    assert [row.check for row in crossed.rows if row.take_again] == [SADDLE_OUT, AIM]
    assert len(crossed.rows) == 7
    aim = next(row for row in crossed.rows if row.check == AIM)
    assert aim.difference.replace("\N{NO-BREAK SPACE}", " ") == (
        "1.04 mm (2.5/64 in), 4.0 times its own ±"  # 1.04/0.26
    )
    relief = next(row for row in crossed.rows if row.id == "relief-bass")
    assert "134 times its own" in relief.difference  # a feeler is not wrong by 2.8 mm


def test_what_was_not_read_is_said_to_be_taken_as_usual() -> None:
    without_nut = HEAD.replace("      - {check: nut-open-first, value: 0.39 mm}\n", "")
    checklist = shipped("flat-top")
    content = (without_nut + LIES).encode()
    crossed = build(
        examine(checklist, store.from_bytes(content, Path("job.yaml"), lambda _: checklist))
    ).cross_checks
    assert crossed is not None
    assert crossed.usual == "Not read, and taken as it usually is: Open height over fret 1."


def test_too_few_readings_say_nothing() -> None:
    report = reported("")
    assert report.cross_checks is None
    assert "Do the readings agree" not in to_html(report)
    assert "Do the readings agree" not in to_markdown(report)
    assert json.loads(to_json(report))["cross_checks"] is None


@pytest.mark.parametrize("readings", [AGREES, LIES, LIES + TELLS])
def test_page_and_markdown_say_all_of_it(readings: str) -> None:
    report = reported(readings)
    crossed = report.cross_checks
    assert crossed is not None
    rows = [
        text for row in crossed.rows for text in (row.check, row.read, row.implied, row.difference)
    ]
    page = words(read(to_html(report)).text)
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    markdown = words(read(reader.render(to_markdown(report))).text)
    for text in (*crossed.said, *rows, crossed.usual, crossed.method):
        assert words(text) in page
        assert words(text) in markdown


def test_json_has_the_numbers_and_the_ids() -> None:
    report = reported(LIES + TELLS)
    data = json.loads(to_json(report))["cross_checks"]
    assert data == json.loads(json.dumps(asdict(report)["cross_checks"]))
    assert (data["kind"], data["unit"], data["degrees"]) == ("only-one", "mm", 2)
    assert data["chance"] == pytest.approx(0.0128, abs=0.001)
    (aim,) = [row for row in data["rows"] if row["take_again"]]
    assert aim["id"] == "projection"
    assert aim["value"] == 0.8
    assert aim["implied_value"] == pytest.approx(-0.26, abs=0.005)
    assert aim["normalised"] > 2
